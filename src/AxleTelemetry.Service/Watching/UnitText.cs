using System.Globalization;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;

namespace AxleTelemetry.Service.Watching;

/// <summary>What a lane knows, in short words for a narrow table. State is always a word; colour may come on top.</summary>
internal static class UnitText
{
    /// <summary>How it moves.</summary>
    public static string Moves(Movement movement) => movement switch
    {
        Movement.Unknown => "not known",
        Movement.Standing => "standing",
        Movement.Rolling => "rolling",
        Movement.Carried => "carried",
        _ => throw new ArgumentOutOfRangeException(nameof(movement), movement, "Unknown movement."),
    };

    /// <summary>One line for each axle: wheel, position, name, load with its interval, limit, state.</summary>
    public static IEnumerable<(string Text, Level Level)> Axles(LaneView view, Names names) =>
        view.Axles.Select(axle => ($"{Wheel(axle.State)} {names.Axle(axle.Part.Index)}{Figure(axle)}", LevelOf(axle.Load)));

    /// <summary>Gross and payloads; empty where no figures are given.</summary>
    public static IEnumerable<(string Text, Level Level)> Sums(LaneView view)
    {
        if (view.Gross is { } gross) yield return ($"gross {Load(gross)}", LevelOf(gross));
        foreach (var payload in view.Payloads)
            yield return ($"payload of {payload.Body.Vehicle.Id} {Interval(payload.Load.Mean, payload.Load.HalfWidth)} t", Level.Clear);
    }

    /// <summary>What the figures are worth and why.</summary>
    public static string Worth(LaneView view)
    {
        var why = string.Join("; ", view.Withheld.Select(Reason));
        return view.Standing switch
        {
            LoadStanding.None => view.MeasuredAt is null ? why : $"withheld: {why}",
            LoadStanding.Provisional => $"provisional, drive 300 m to be sure{After(why)}",
            LoadStanding.Settled => $"measured rolling {Age(view.AgeSeconds)} ago",
            LoadStanding.Earlier => $"measured {Age(view.AgeSeconds)} ago{After(why)}",
            _ => throw new ArgumentOutOfRangeException(nameof(view), view.Standing, "Unknown standing."),
        };
    }

    /// <summary>How sure it is that a limit is passed, in words.</summary>
    public static string Word(Verdict verdict) => verdict.CannotTell ? "cannot tell" : verdict.Level switch
    {
        Level.Clear => "ok",
        Level.Near => "near the limit",
        Level.Likely => $"likely {Side(verdict)}",
        Level.Surely => $"surely {Side(verdict)}",
        _ => throw new ArgumentOutOfRangeException(nameof(verdict), verdict.Level, "Unknown level."),
    };

    /// <summary>A least load is missed from below.</summary>
    private static string Side(Verdict verdict) => verdict.Margin.Constant > 0 && verdict.Margin.Key.Kind != MarginKind.CouplingLeast ? "over" : "under";

    private static string Figure(AxleView axle)
    {
        if (axle.Load is not { } load) return axle.State == AxleState.Raised ? "" : " no figure";
        var basis = axle.Basis switch
        {
            LoadBasis.OwnSensor => "",
            LoadBasis.SharedCircuit => ", shared circuit",
            LoadBasis.OneSide => ", one side sensed",
            LoadBasis.Inferred => ", inferred",
            LoadBasis.Assumed => ", assumed",
            _ => throw new ArgumentOutOfRangeException(nameof(axle), axle.Basis, "Unknown basis."),
        };
        return $" {Load(load)}{basis}";
    }

    private static string Load(LimitedLoad load) => load.Closest is { } closest
        ? $"{Interval(load.Load.Mean, load.Load.HalfWidth)} of {Amount.Limit(closest.Margin.Limit)}, {Word(closest)}"
        : $"{Interval(load.Load.Mean, load.Load.HalfWidth)} t, no limit";

    private static string Interval(double mean, double halfWidth) => $"{Amount.Number(mean)} +-{Amount.Number(halfWidth)}";

    private static string Wheel(AxleState state) => state switch
    {
        AxleState.Loaded => "(O) down",
        AxleState.Unloaded => "(o) relieved",
        AxleState.Raised => " ^  raised",
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state."),
    };

    /// <summary>Why figures are withheld or of an earlier moment.</summary>
    public static string Reason(Withheld reason) => reason switch
    {
        Withheld.NothingMeasured => "nothing measured yet",
        Withheld.LoadMayHaveChanged => "the load may have changed since",
        Withheld.BodyAtWork => "the body is at work",
        Withheld.SuspensionOff => "suspension not at driving height, or no air",
        Withheld.Carried => "the vehicle is carried",
        Withheld.TrailerClaimedTwice => "another vehicle claims its trailer, so no gross is given",
        Withheld.ConfigurationImpossible => "the axles cannot stand as reported",
        _ => throw new ArgumentOutOfRangeException(nameof(reason), reason, "Unknown reason."),
    };

    private static Level LevelOf(LimitedLoad? load) => load?.Closest is { CannotTell: false } closest ? closest.Level : Level.Clear;

    private static string After(string why) => why.Length == 0 ? "" : $"; {why}";

    private static string Age(double? seconds) => seconds switch
    {
        null => "",
        < 100 => string.Create(CultureInfo.InvariantCulture, $"{Math.Max(0, seconds.Value):0} s"),
        < 6000 => string.Create(CultureInfo.InvariantCulture, $"{seconds.Value / 60:0} min"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{seconds.Value / 3600:0.#} h"),
    };
}
