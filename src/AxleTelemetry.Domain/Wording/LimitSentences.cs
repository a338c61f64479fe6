using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;

namespace AxleTelemetry.Domain.Wording;

/// <summary>One judged limit in words.</summary>
internal sealed class LimitSentences(Names names)
{
    /// <summary>What is on the limited thing: for a share the load that is too small.</summary>
    public static double Load(in Verdict verdict) =>
        verdict.Margin.Constant > 0 ? verdict.Excess.Mean + verdict.Margin.Constant : verdict.Scale - verdict.Excess.Mean;

    /// <summary><c>Axle 2 (drive): 12.4 t, give or take 0.4 t; 0.9 t over 11.5 t (sure).</c></summary>
    public string Over(in Verdict verdict, double load, Level level)
    {
        var (key, excess) = (verdict.Margin.Key, Amount.Excess(verdict.Excess.Mean));
        var name = Names.Begin(names.Limited(verdict.Margin));
        var words = key.Kind switch
        {
            MarginKind.Axle or MarginKind.Group or MarginKind.Gross or MarginKind.CombinationGross or MarginKind.CouplingMost or MarginKind.Bridge =>
                $"{name}: {Seen(verdict, load)}; {excess} over {Amount.Limit(verdict.Margin.Limit)}",
            MarginKind.AxleRating => $"{name}: {Seen(verdict, load)}; {excess} over its rating of {Amount.Limit(verdict.Margin.Limit)}",
            MarginKind.TyreRating => $"{name}: {Seen(verdict, load)}; {excess} over what they may carry, {Amount.Limit(verdict.Margin.Limit)}",
            MarginKind.CouplingLeast => $"{name}: {Seen(verdict, load)}; {excess} below the least, {Amount.Limit(verdict.Margin.Limit)}",
            MarginKind.DrivingShare => $"Driving axles carry {Seen(verdict, load)}, of the mass; {Amount.Percent(verdict.Margin.Limit)} needed, {excess} too little",
            MarginKind.SteeringShare => $"Light steer axle: {Seen(verdict, load)}, of the vehicle's mass; house rule {Amount.Percent(verdict.Margin.Limit)}, {excess} too little",
            _ => throw new ArgumentOutOfRangeException(nameof(verdict), key.Kind, "Unknown kind."),
        };
        return $"{words} ({Sure(level)}).";
    }

    /// <summary><c>Cannot tell whether axle 1 (steer) is within 8.0 t: 7.6 t, give or take 1.6 t. Weigh it or fit a sensor.</c></summary>
    public string CannotTell(in Verdict verdict, double load)
    {
        var key = verdict.Margin.Key;
        var name = names.Limited(verdict.Margin);
        var limit = key.Kind switch
        {
            MarginKind.DrivingShare or MarginKind.SteeringShare => $"the {name} reaches {Amount.Percent(verdict.Margin.Limit)}",
            MarginKind.CouplingLeast => $"{name} reaches {Amount.Limit(verdict.Margin.Limit)}",
            MarginKind.TyreRating => $"the {name} carry no more than {Amount.Limit(verdict.Margin.Limit)}",
            MarginKind.Axle or MarginKind.AxleRating or MarginKind.Group or MarginKind.Gross or MarginKind.CombinationGross or MarginKind.CouplingMost or MarginKind.Bridge =>
                $"{name} is within {Amount.Limit(verdict.Margin.Limit)}",
            _ => throw new ArgumentOutOfRangeException(nameof(verdict), key.Kind, "Unknown kind."),
        };
        return $"Cannot tell whether {limit}: {Seen(verdict, load)}. Weigh it or fit a sensor.";
    }

    /// <summary>A load or share with its 95 % interval: none is told without.</summary>
    private static string Seen(in Verdict verdict, double load) => verdict.Margin.Key.Kind is MarginKind.DrivingShare or MarginKind.SteeringShare
        ? $"{Share(verdict, load)}, give or take {Share(verdict, verdict.Excess.HalfWidth)}"
        : $"{Amount.Tonnes(load)}, give or take {Amount.Tonnes(verdict.Excess.HalfWidth)}";

    /// <summary><c>at most 10.9 t of 11.5 t on axle 2 (drive)</c>; where that is not sure, about, and says so.</summary>
    public string Then(in Verdict verdict)
    {
        var sure = verdict.Deviations <= -Levels.SurelyFrom;
        // What is missed from below is shortest of it at its least, and that is what matters.
        var mass = verdict.Margin.Constant > 0;
        var load = Load(verdict) + (!sure ? 0 : mass ? verdict.Excess.HalfWidth : -verdict.Excess.HalfWidth);
        var name = names.Limited(verdict.Margin);
        var how = sure ? mass ? "at most" : "at least" : "about";
        var words = verdict.Margin.Key.Kind switch
        {
            MarginKind.DrivingShare or MarginKind.SteeringShare =>
                $"{how} {Share(verdict, load)} {name}, {Amount.Percent(verdict.Margin.Limit)} needed",
            MarginKind.CouplingLeast => $"{how} {Amount.Tonnes(load)} on the {name}, {Amount.Limit(verdict.Margin.Limit)} needed",
            MarginKind.Gross or MarginKind.CombinationGross => $"{how} {Amount.Tonnes(load)} of {Amount.Limit(verdict.Margin.Limit)} ({name})",
            MarginKind.Axle or MarginKind.AxleRating or MarginKind.TyreRating => $"{how} {Amount.Tonnes(load)} of {Amount.Limit(verdict.Margin.Limit)} on {name}",
            MarginKind.Bridge => $"{how} {Amount.Tonnes(load)} of {Amount.Limit(verdict.Margin.Limit)} on {name}",
            MarginKind.Group or MarginKind.CouplingMost => $"{how} {Amount.Tonnes(load)} of {Amount.Limit(verdict.Margin.Limit)} on the {name}",
            _ => throw new ArgumentOutOfRangeException(nameof(verdict), verdict.Margin.Key.Kind, "Unknown kind."),
        };
        return sure ? words : $"{words}, which is not sure";
    }

    /// <summary>How sure, in a word.</summary>
    public static string Sure(Level level) => level switch
    {
        Level.Surely => "sure",
        Level.Likely => "likely",
        Level.Near => "more likely than not",
        Level.Clear => "not sure",
        _ => throw new ArgumentOutOfRangeException(nameof(level), level, "Unknown level."),
    };

    private static string Share(in Verdict verdict, double load) => Amount.Percent(load * verdict.Margin.Limit / verdict.Scale);
}
