using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Limits;

/// <summary>
/// The moving-off aid of Implementing Regulation (EU) 2021/535, Annex XIII: an axle may be raised or relieved for a short
/// time so that the driving axle grips.
/// </summary>
public static class MovingOffAid
{
    /// <summary>Most that the law lets the driving axle exceed its maximum by.</summary>
    public const double Most = 0.30;

    /// <summary>Speed before which it must have ended, m/s (30 km/h).</summary>
    public const double EndsBefore = 30 / 3.6;

    /// <summary>
    /// What the driving axle may carry meanwhile: its limit plus the maker's stated fraction, never more than 30 %; the plain
    /// limit where the maker states none. A stated fraction outside 0 to 0.30 is brought into it.
    /// </summary>
    public static Mass Ceiling(Mass axleLimit, double stated) =>
        Mass.FromKilograms(axleLimit.Kilograms + axleLimit.Kilograms * Math.Clamp(stated, 0, Most));

    /// <summary>True where a moment falls under the aid: within its ceiling, below 30 km/h, some load left on the front.</summary>
    public static bool Covers(Mass driving, Mass front, Mass ceiling, double metresPerSecond) =>
        driving <= ceiling && front.Kilograms > 0 && metresPerSecond < EndsBefore;
}
