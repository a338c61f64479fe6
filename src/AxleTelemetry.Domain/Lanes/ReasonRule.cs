using AxleTelemetry.Domain.Readings;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>
/// How long a stated reason excuses an axle that costs as it stands: until the axle moves, it is said that there is none any more, or a shift has passed.
/// A reason excuses nothing that a limit says.
/// </summary>
internal static class ReasonRule
{
    /// <summary>Seconds after which a reason that nobody repeated is taken for forgotten.</summary>
    public const double Longest = 12 * 3600;

    /// <summary>Takes what was said of the axle; <see cref="AxleReport.Definite"/> still is what held before. True where it is excused from now on.</summary>
    public static bool Take(ref AxleReport axle, LiftWord word, long at)
    {
        var isDefinite = word.Report is not (LiftReport.Moving or LiftReport.Unknown);
        if (isDefinite && axle.Known != 0 && (axle.Definite == LiftReport.Raised) != (word.Report == LiftReport.Raised)) axle.Reason = LiftReason.Unsaid;
        if (word.Reason == LiftReason.Unsaid) return false;
        // The control has rules, not reasons.
        axle.Reason = word.By == LiftBy.Automatic ? LiftReason.None : word.Reason;
        axle.ReasonAt = at;
        return axle.Reason > LiftReason.None;
    }

    /// <summary>The reason that holds at a moment; <see cref="LiftReason.None"/> for none.</summary>
    public static LiftReason Of(in AxleReport axle, long at) =>
        axle.Reason > LiftReason.None && MotionTracker.Seconds(axle.ReasonAt, at) <= Longest ? axle.Reason : LiftReason.None;
}
