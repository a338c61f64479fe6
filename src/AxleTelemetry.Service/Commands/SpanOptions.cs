using System.CommandLine;
using System.Globalization;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Commands;

/// <summary>A span of time, and whose part of a journal: options of the commands that read one.</summary>
/// <param name="from">What the beginning means, for people.</param>
/// <param name="to">What the end means.</param>
/// <param name="vehicle">What a vehicle means.</param>
internal sealed class SpanOptions(string from, string to, string vehicle)
{
    // 3/4/2026 is a day in March to one reader and in April to another.
    private static readonly string[] Times = ["yyyy-MM-dd", "yyyy-MM-dd'T'HH:mm", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFF", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFFzzz", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFF'Z'"];

    private readonly Option<string?> _from = new("--from") { Description = from, HelpName = "TIME" };
    private readonly Option<string?> _to = new("--to") { Description = to, HelpName = "TIME" };
    private readonly Option<string?> _fleet = new("--fleet") { Description = "Of this fleet only.", HelpName = "FLEET" };
    private readonly Option<string?> _vehicle = new("--vehicle") { Description = vehicle, HelpName = "FLEET/VEHICLE" };

    public void AddTo(Command command)
    {
        foreach (Option option in (Option[])[_from, _to, _fleet, _vehicle]) command.Options.Add(option);
    }

    /// <summary>What was asked for; what is wrong goes to the list, and then the answer is of no use.</summary>
    public JournalPart Read(ParseResult parsed, ServiceConfiguration configuration, List<InputProblem> problems)
    {
        var (from, to) = (Time("--from", parsed.GetValue(_from), problems), Time("--to", parsed.GetValue(_to), problems));
        if (from > to) problems.Add(new("--from", "", from.ToString()!, "Right is a time before --to."));
        var (fleet, vehicle) = (parsed.GetValue(_fleet), Vehicle(parsed.GetValue(_vehicle), problems));
        if (fleet is not null && vehicle is { } other && other.Fleet != fleet)
            problems.Add(new("--vehicle", "", $"'{other.Fleet}/{other.Id}'", $"Right is a vehicle of --fleet {fleet}, or --fleet left out."));
        if ((fleet ?? vehicle?.Fleet) is { } named && configuration.Fleets.Find(named) is null)
            problems.Add(new(fleet is null ? "--vehicle" : "--fleet", "", $"'{named}'", $"Right is one of the fleets {string.Join(", ", configuration.Fleets.Fleets.Select(f => f.Name))}."));
        return new JournalPart(from, to, fleet, vehicle);
    }

    private static Moment? Time(string option, string? text, List<InputProblem> problems)
    {
        if (text is null) return null;
        if (DateTimeOffset.TryParseExact(text, Times, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var at)) return new Moment(at.ToUnixTimeMilliseconds());
        problems.Add(new(option, "", $"'{text}'", "Right would be a day or a time, for example 2026-03-02 or 2026-03-02T06:00:00Z."));
        return null;
    }

    private static VehicleName? Vehicle(string? text, List<InputProblem> problems)
    {
        if (text is null) return null;
        if (text.Split('/') is [var fleet, var id]) return new VehicleName(fleet, id);
        problems.Add(new("--vehicle", "", $"'{text}'", "Right is FLEET/VEHICLE, for example north/TR-04."));
        return null;
    }
}

/// <summary>A part of a journal.</summary>
/// <param name="From">From when on; <c>null</c>: from its beginning.</param>
/// <param name="To">Up to when, not included; <c>null</c>: to its end.</param>
/// <param name="Fleet">Of one fleet; <c>null</c>: of all.</param>
/// <param name="Vehicle">Of one vehicle; <c>null</c>: of all.</param>
internal sealed record JournalPart(Moment? From, Moment? To, string? Fleet, VehicleName? Vehicle)
{
    /// <summary>The shards that may hold any of it.</summary>
    public IEnumerable<string> Shards(ServiceConfiguration configuration) => configuration.Settings.Shards
        .Where(s => (Vehicle?.Fleet ?? Fleet) is not { } fleet || s.Fleets.Contains(fleet)).Select(s => s.Name);
}
