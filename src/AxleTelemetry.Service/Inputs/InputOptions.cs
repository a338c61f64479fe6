using System.CommandLine;
using System.Globalization;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Service.Inputs;

/// <summary>The arguments and options that every command about a combination shares, so that they read alike everywhere.</summary>
internal sealed class InputOptions(TimeProvider clock)
{
    private const string National = "national", International = "international", Unknown = "unknown";

    private readonly Argument<string[]> _vehicles = new("VEHICLE")
    {
        Description = "Vehicle files, front to rear: the powered unit first, then its trailers.",
        Arity = ArgumentArity.OneOrMore,
    };

    private readonly Option<string?> _tickets = new("--tickets")
    {
        Description = "CSV file of weighbridge tickets. A sensor without tickets keeps its handbook calibration.",
        HelpName = "FILE",
    };

    private readonly Option<string?> _limits = new("--limits")
    {
        Description = "File of limits. Default: the shipped table of Council Directive 96/53/EC, Annex I.",
        HelpName = "FILE",
    };

    private readonly Option<string?> _permits = new("--permits")
    {
        Description = "File of permits. Those for these vehicles count on their days; without positions, as if driven by their conditions in their country.",
        HelpName = "FILE",
    };

    private readonly Option<string> _trip = new("--trip")
    {
        Description = "Whether the trip crosses a border. While unknown the stricter limit holds.",
        HelpName = $"{National}|{International}|{Unknown}",
        DefaultValueFactory = _ => Unknown,
    };

    private readonly Option<bool> _intermodal = new("--intermodal")
    {
        Description = "The trip is declared intermodal (containers or swap bodies).",
    };

    private readonly Option<string?> _date = new("--date")
    {
        Description = "Day for which ticket calibrations are aged, and on which permits hold. Default: today.",
        HelpName = "YYYY-MM-DD",
    };

    private Option[] OfFleet => [_tickets, _limits, _permits, _trip, _intermodal];

    /// <summary>Adds them all to a command about one combination.</summary>
    public void AddTo(Command command)
    {
        command.Arguments.Add(_vehicles);
        AddLimitsTo(command);
        command.Options.Add(_date);
    }

    /// <summary>Adds those that say what holds for a fleet: tickets, limits, permits, trip. Its calibrations age with the moments of the messages.</summary>
    public void AddLimitsTo(Command command)
    {
        foreach (var option in OfFleet) command.Options.Add(option);
    }

    /// <summary>Those of <see cref="AddLimitsTo"/> that were given.</summary>
    public IEnumerable<Option> StatedLimits(ParseResult parsed) => OfFleet.Where(option => parsed.GetResult(option) is { Implicit: false });

    /// <summary>What was asked for; what cannot be read goes to the list.</summary>
    public InputRequest Read(ParseResult parsed, List<InputProblem> errors) => new()
    {
        VehicleFiles = [.. parsed.GetValue(_vehicles) ?? []],
        Tickets = parsed.GetValue(_tickets),
        Limits = parsed.GetValue(_limits),
        Permits = parsed.GetValue(_permits),
        Trip = new LimitContext { Trip = Trip(parsed.GetValue(_trip)!, errors), Intermodal = parsed.GetValue(_intermodal) },
        AsOf = Date(parsed.GetValue(_date), errors),
    };

    /// <summary>Loads what was asked for, the errors of the options among the others.</summary>
    public InputResult Load(ParseResult parsed)
    {
        var errors = new List<InputProblem>();
        var result = InputReader.Load(Read(parsed, errors));
        return (result, errors) switch
        {
            (_, []) => result,
            (InputResult.Refused refused, _) => new InputResult.Refused([.. errors, .. refused.Errors]),
            (InputResult.Loaded, _) => new InputResult.Refused([.. errors]),
            _ => throw new InvalidOperationException("An outcome of loading that nobody handles."),
        };
    }

    private static TripKind Trip(string text, List<InputProblem> errors)
    {
        switch (text.ToLowerInvariant())
        {
            case National: return TripKind.National;
            case International: return TripKind.International;
            case Unknown: return TripKind.Unknown;
            default:
                errors.Add(new("--trip", "", $"'{text}'", $"Right would be {National}, {International} or {Unknown}."));
                return TripKind.Unknown;
        }
    }

    private Moment? Date(string? text, List<InputProblem> errors)
    {
        if (text is null) return new Moment(clock.GetUtcNow().ToUnixTimeMilliseconds());
        if (DateTimeOffset.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var day))
            return new Moment(day.ToUnixTimeMilliseconds());
        errors.Add(new("--date", "", $"'{text}'", "Right would be a day, for example 2026-03-02."));
        return null;
    }
}
