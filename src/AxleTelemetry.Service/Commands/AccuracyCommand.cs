using System.Collections.Immutable;
using System.CommandLine;
using AxleTelemetry.Service.Accuracy;

namespace AxleTelemetry.Service.Commands;

/// <summary><c>accuracy</c>: simulated fleets with known truth, held against what is stated.</summary>
internal sealed class AccuracyCommand
{
    private const string Description = """
        Run simulated fleets through the same code as the service's, and show how near the stated loads are to the truth.

        Every vehicle is drawn with errors of its own (gain, offset, share, kerb mass, fuel, crew ...) that do not average away. Trucks are loaded
        to 0.96 (sd 0.03) of what is permitted, so that many legs are near a limit on either side. Shown by class of figure: errors against
        what is asked, how often the stated 95 % intervals hold the truth, overloads found by size, false alerts by vehicle, and how often the advice
        was right. What pressure, lift and position cannot tell is not asked of errors, but its intervals must hold.

        Examples:
          axletelemetry accuracy
          axletelemetry accuracy --units 210 --days 3 --seeds 101,102,103

        Exit code: 0 every target reached, 1 some missed (marked MISSED), 2 bad input.
        """;

    private readonly Option<int> _units = new("--units") { Description = "Combinations a seed, of every kind in turn.", DefaultValueFactory = _ => 210 };
    private readonly Option<int> _days = new("--days") { Description = "Days of each.", DefaultValueFactory = _ => 3 };
    private readonly Option<int> _every = new("--every") { Description = "Seconds between samples: 1 or 10.", DefaultValueFactory = _ => 10 };
    private readonly Option<string> _seeds = new("--seeds") { Description = "Seeds, separated by commas.", DefaultValueFactory = _ => "101,102,103" };

    private AccuracyCommand()
    {
    }

    public static Command Create()
    {
        var accuracy = new AccuracyCommand();
        var command = new Command("accuracy", Description);
        command.Options.Add(accuracy._units);
        command.Options.Add(accuracy._days);
        command.Options.Add(accuracy._every);
        command.Options.Add(accuracy._seeds);
        command.SetAction((parsed, cancel) => Task.Run(() => accuracy.Run(parsed, cancel), CancellationToken.None));
        return command;
    }

    private int Run(ParseResult parsed, CancellationToken cancel)
    {
        var (output, error) = (parsed.InvocationConfiguration.Output, parsed.InvocationConfiguration.Error);
        if (Plan(parsed, error) is not { } plan) return ExitCode.BadInput;
        try
        {
            return new AccuracyRun(plan, output, error).Run(cancel) == 0 ? ExitCode.Done : ExitCode.Suspicious;
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            return ExitCode.Suspicious;
        }
    }

    private AccuracyPlan? Plan(ParseResult parsed, TextWriter error)
    {
        var (units, days, every, seeds) = (parsed.GetValue(_units), parsed.GetValue(_days), parsed.GetValue(_every), Seeds(parsed.GetValue(_seeds)!));
        string[] wrong =
        [
            .. units is < 1 or > 10_000 ? [$"--units is {units}: it is from 1 to 10000."] : (string[])[],
            .. days is < 1 or > 366 ? [$"--days is {days}: it is from 1 to 366."] : (string[])[],
            .. every is not (1 or 10) ? [$"--every is {every}: it is 1 or 10."] : (string[])[],
            .. seeds is null ? [$"--seeds is '{parsed.GetValue(_seeds)}': it is a list of whole numbers from 0, separated by commas, such as 101,102,103."] : (string[])[],
        ];
        foreach (var why in wrong) error.WriteLine(why);
        return wrong.Length > 0 ? null : new AccuracyPlan(units, days, every, seeds!.Value);
    }

    private static ImmutableArray<ulong>? Seeds(string text)
    {
        var seeds = ImmutableArray.CreateBuilder<ulong>();
        foreach (var word in text.Split(','))
        {
            if (!ulong.TryParse(word.Trim(), System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out var seed)) return null;
            seeds.Add(seed);
        }

        return seeds.ToImmutable();
    }
}
