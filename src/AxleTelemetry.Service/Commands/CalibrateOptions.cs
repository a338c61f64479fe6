using System.CommandLine;
using System.Globalization;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Calibrating;

namespace AxleTelemetry.Service.Commands;

/// <summary>The options of <c>calibrate</c>, and what they ask for. Ranges are checked here, all at once, so that each error names its option.</summary>
internal sealed class CalibrateOptions
{
    private readonly Option<string?> _tickets = new("--tickets") { Description = "CSV file of weighbridge tickets. Without it: the handbook alone.", HelpName = "FILE" };
    private readonly Option<string?> _vehicle = new("--vehicle") { Description = "Vehicle file, instead of the options from --area-cm2 to --typical-kg.", HelpName = "FILE" };
    private readonly Option<string?> _circuit = new("--circuit") { Description = "Which circuit, where there are several.", HelpName = "VEHICLE/SENSOR|SENSOR" };
    private readonly Option<string[]> _without = new("--without") { Description = "Leave a weighing out; may be repeated.", HelpName = "WEIGHING" };
    private readonly StatedHandbook _stated = new();
    private readonly Option<string?> _at = new("--date") { Description = "Widen the fit by its age at this day or RFC 3339 time.", HelpName = "DATE" };
    private readonly Option<FileInfo?> _svg = new("--svg") { Description = "Write a picture of the fit, its 95 % band, tickets and residuals. All circuits of a vehicle: one each, fit-SENSOR.svg for fit.svg.", HelpName = "FILE" };
    private readonly Option<bool> _json = new("--json") { Description = "Print JSON instead of tables: one object, or a list for all circuits of a vehicle." };
    private readonly Option<bool> _strict = new("--strict") { Description = "Exit code 1 when a ticket is suspicious." };

    public IEnumerable<Option> All => [_tickets, _vehicle, _circuit, _without, .. _stated.All, _at, _svg, _json, _strict];

    /// <summary>What is asked for, or <c>null</c> with every problem listed.</summary>
    public CalibrationOrder? Read(ParseResult parsed, List<string> problems)
    {
        var handbook = Handbook(parsed, problems);
        var at = At(parsed, problems);
        if (handbook is null || problems.Count > 0) return null;
        return new()
        {
            Tickets = parsed.GetValue(_tickets),
            Circuit = parsed.GetValue(_circuit),
            Without = [.. parsed.GetValue(_without) ?? []],
            Handbook = handbook,
            At = at,
            Picture = parsed.GetValue(_svg),
            Json = parsed.GetValue(_json),
            Strict = parsed.GetValue(_strict),
        };
    }

    private HandbookSource? Handbook(ParseResult parsed, List<string> problems)
    {
        if (parsed.GetValue(_vehicle) is not { } vehicle)
            return _stated.Read(parsed, problems) is { } setup ? new HandbookSource.Stated(setup) : null;
        foreach (var option in _stated.All.Where(option => parsed.GetResult(option) is { Implicit: false }))
            problems.Add($"{option.Name} and --vehicle both state it: {option.Name} already stands in {vehicle}. Leave one of them out.");
        return new HandbookSource.Described(vehicle);
    }

    private Moment? At(ParseResult parsed, List<string> problems)
    {
        if (parsed.GetValue(_at) is not { } text) return null;
        if (DateTimeOffset.TryParseExact(text, ["yyyy-MM-dd", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFFzzz", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFF'Z'"],
            CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var time)) return new(time.ToUnixTimeMilliseconds());
        problems.Add($"--date '{text}' must be a day or an RFC 3339 time, for example 2027-03-02 or 2027-03-02T06:00:00Z.");
        return null;
    }
}
