using System.Globalization;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Web.Sight;
using AxleTelemetry.Web.Texts;

namespace AxleTelemetry.Web.Look;

/// <summary>Words of states, and texts with something put into them.</summary>
internal static class Told
{
    public static string With(string text, params object?[] values) => string.Format(CultureInfo.InvariantCulture, text, values);

    /// <summary>A place to a hundredth of a degree: <c>40.42 N 3.70 W</c>.</summary>
    public static string Place(double latitude, double longitude) =>
        FormattableString.Invariant($"{Math.Abs(latitude):0.00} {(latitude < 0 ? "S" : "N")} {Math.Abs(longitude):0.00} {(longitude < 0 ? "W" : "E")}");

    /// <summary>Which side of a limit something stands on.</summary>
    public static string Side(Verdict verdict) => Side(verdict.Excess.Mean, verdict.Margin.Key.Kind.IsLeast());

    /// <summary>Which side of a limit something stands on.</summary>
    /// <param name="excess">By how much it is passed, kg.</param>
    /// <param name="isLeast">It is one that must not be fallen below.</param>
    public static string Side(double excess, bool isLeast) => excess <= 0 ? Words.Spare : isLeast ? Words.Under : Words.Over;

    public static string Of(AlertPriority priority) => priority switch
    {
        AlertPriority.High => Words.PriorityHigh,
        AlertPriority.Medium => Words.PriorityMedium,
        AlertPriority.Low => Words.PriorityLow,
        _ => throw new ArgumentOutOfRangeException(nameof(priority), priority, "Unknown priority."),
    };

    public static string Of(Level level) => level switch
    {
        Level.Clear => Words.LevelClear,
        Level.Near => Words.LevelNear,
        Level.Likely => Words.LevelLikely,
        Level.Surely => Words.LevelSurely,
        _ => throw new ArgumentOutOfRangeException(nameof(level), level, "Unknown level."),
    };

    public static string Of(Condition condition) => condition switch
    {
        Condition.Over => Words.ConditionOver,
        Condition.LikelyOver => Words.ConditionLikelyOver,
        Condition.Silent => Words.ConditionSilent,
        Condition.CannotTell => Words.ConditionCannotTell,
        Condition.Near => Words.ConditionNear,
        Condition.Within => Words.ConditionWithin,
        Condition.StandingOff => Words.ConditionStandingOff,
        Condition.NoFigures => Words.ConditionNoFigures,
        Condition.Behind => Words.ConditionBehind,
        Condition.NeverHeard => Words.ConditionNeverHeard,
        _ => throw new ArgumentOutOfRangeException(nameof(condition), condition, "Unknown condition."),
    };

    /// <summary>A stretch of time, roughly: <c>40 s</c>, <c>12 min</c>, <c>5 h</c>, <c>3 d</c>.</summary>
    public static string Span(double seconds) => seconds switch
    {
        < 100 => With(Words.Seconds, Math.Max(0, Math.Round(seconds))),
        < 6_000 => With(Words.Minutes, Math.Round(seconds / 60)),
        < 172_800 => With(Words.Hours, Math.Round(seconds / 3600)),
        _ => With(Words.Days, Math.Round(seconds / 86_400)),
    };
}
