using System.CommandLine;
using System.Globalization;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Demonstrating;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Commands;

/// <summary>The options of <c>demo</c>, and what they ask for.</summary>
internal sealed class DemoOptions
{
    private const int MostVehicles = 500;

    private readonly Option<string> _seed = new("--seed") { Description = "What everything is drawn from.", HelpName = "NUMBER", DefaultValueFactory = _ => "6" };
    private readonly Option<string> _vehicles = new("--vehicles") { Description = "Powered vehicles, seven kinds in turn; trailers come with them.", HelpName = "NUMBER", DefaultValueFactory = _ => "24" };
    private readonly Option<string> _listen = new("--listen") { Description = "Where the page is served.", HelpName = "ADDRESS:PORT", DefaultValueFactory = _ => "127.0.0.1:8080" };
    private readonly Option<string?> _data = new("--data") { Description = "Empty directory for files and journal, which stays. Default: one of the system's for temporary files, deleted in the end.", HelpName = "DIRECTORY" };
    private readonly Option<string?> _truth = new("--truth") { Description = "File for the true loads of what has been sent so far, one JSON object a line.", HelpName = "FILE" };

    public IEnumerable<Option> All => [_seed, _vehicles, _listen, _data, _truth];

    /// <summary>What is asked for, or <c>null</c> with every problem listed.</summary>
    public DemoOrder? Read(ParseResult parsed, List<InputProblem> problems)
    {
        var seed = Whole(parsed, _seed, (0, long.MaxValue), problems);
        var vehicles = Whole(parsed, _vehicles, (1, MostVehicles), problems);
        var listen = ListenAddress.Parse(parsed.GetValue(_listen)!);
        if (listen is null) problems.Add(new("--listen", "", $"'{parsed.GetValue(_listen)}'", $"Right is {ListenAddress.Rule}."));
        else if (!listen.IsLoopback) problems.Add(new("--listen", "", $"'{listen}'", "A demonstration asks nobody who he is: right is an address of this machine alone, such as 127.0.0.1:8080."));
        return problems.Count > 0 || listen is null ? null : new DemoOrder((ulong)seed, (int)vehicles, listen) { Data = parsed.GetValue(_data), Truth = parsed.GetValue(_truth) };
    }

    private static long Whole(ParseResult parsed, Option<string> option, (long Least, long Most) range, List<InputProblem> problems)
    {
        if (long.TryParse(parsed.GetValue(option), NumberStyles.None, CultureInfo.InvariantCulture, out var value) && value >= range.Least && value <= range.Most) return value;
        problems.Add(new(option.Name, "", $"'{parsed.GetValue(option)}'", FormattableString.Invariant($"Right would be a whole number from {range.Least} to {range.Most}.")));
        return range.Least;
    }
}
