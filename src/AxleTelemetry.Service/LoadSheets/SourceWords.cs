using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Wording;

namespace AxleTelemetry.Service.LoadSheets;

/// <summary>Where the uncertainty of a judged limit comes from, in words that say what to do next.</summary>
internal sealed class SourceWords(LaneSetup setup, PayloadEstimate payload, KnownErrors known)
{
    private const int Told = 3;
    private const double LeastPart = 0.01;

    private readonly Names _names = new(setup.Combination);

    /// <summary>The greatest sources of a form, with their part of its variance.</summary>
    public ImmutableArray<(string Words, double Part)> Of(LinearForm form, Knowledge how)
    {
        var estimator = setup.Estimator;
        var errors = estimator.Model.Budget.Errors;
        var variances = new double[errors.Length + 1];
        estimator.Sources(payload, known, form, variances);
        var total = variances.Sum();
        if (total <= 0) return [];
        var rest = how == Knowledge.ByPlace ? "where the payload sits" : "the scatter of one reading";
        return [.. variances.Select((variance, i) => (Words: i < errors.Length ? Words(errors[i]) : rest, Variance: variance))
            .GroupBy(s => s.Words)
            .Select(g => (Words: g.Key, Part: g.Sum(s => s.Variance) / total))
            .OrderByDescending(s => s.Part).TakeWhile(s => s.Part >= LeastPart).Take(Told)];
    }

    private string Words(in ConsideredError error) => error.Kind switch
    {
        ConsideredKind.Unsprung => $"the mass of {_names.Axle(error.Element)} itself",
        ConsideredKind.KerbFront or ConsideredKind.KerbRear => $"the kerb weighing of {_names.Vehicle(error.Body)}",
        ConsideredKind.Share => $"how the axles of {_names.Vehicle(error.Body)} share",
        ConsideredKind.Residual => $"what {_names.Axle(error.Element)} still carries when relieved",
        ConsideredKind.Regulated => $"the set pressure of {_names.Axle(error.Element)}",
        ConsideredKind.Service => "fuel, crew and kit aboard",
        ConsideredKind.CouplingPosition => $"the place of the {_names.Coupling(error.Body + 1)}",
        ConsideredKind.Fixture => $"whether {setup.Combination.Vehicles[error.Body].Fixtures[error.Element].Name} is aboard",
        ConsideredKind.Drag => "air drag",
        ConsideredKind.Gain or ConsideredKind.Offset => Calibration(error.Element),
        ConsideredKind.Leg => "crown, wind and grade of the road",
        ConsideredKind.Environment => "temperature and air pressure at the sensors",
        ConsideredKind.Extrapolation => $"a pressure of {_names.Sensor(error.Element)} beyond its tickets",
        ConsideredKind.OtherSide => $"the side that {_names.Sensor(error.Element)} does not feel",
        _ => throw new ArgumentOutOfRangeException(nameof(error), error.Kind, "Unknown error."),
    };

    private string Calibration(int sensor) => setup.Estimator.Circuits[sensor].Fit.Tickets switch
    {
        0 => $"the calibration of {_names.Sensor(sensor)} (handbook only: a weighbridge ticket narrows it)",
        < 4 => $"the calibration of {_names.Sensor(sensor)} (few tickets: more narrow it)",
        _ => $"the calibration of {_names.Sensor(sensor)}",
    };
}
