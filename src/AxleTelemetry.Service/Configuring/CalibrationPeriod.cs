using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Service.Configuring;

/// <summary>
/// A stretch of time in which the same calibrations hold, as old as they were at its start. It ends where a version starts and at each
/// first of a month (UTC): age widens a fit so slowly that a month makes no difference, and a fixed calendar gives a replay the same steps.
/// </summary>
/// <param name="From">Its start, part of it.</param>
/// <param name="Until">Its end, not part of it.</param>
internal readonly record struct CalibrationPeriod(Moment From, Moment Until)
{
    /// <summary>The period of a moment.</summary>
    public static CalibrationPeriod Around(Moment at, IEnumerable<CalibrationHistory> histories)
    {
        var day = DateTimeOffset.FromUnixTimeMilliseconds(at.UnixMilliseconds);
        var month = new DateTimeOffset(day.Year, day.Month, 1, 0, 0, 0, TimeSpan.Zero);
        var (from, until) = (month.ToUnixTimeMilliseconds(), month.AddMonths(1).ToUnixTimeMilliseconds());
        foreach (var start in histories.SelectMany(h => h.Versions).Select(v => v.ValidFrom))
        {
            if (start <= at) from = Math.Max(from, start.UnixMilliseconds);
            else until = Math.Min(until, start.UnixMilliseconds);
        }

        return new(new(from), new(until));
    }

    /// <summary>True for a moment in it.</summary>
    public bool Contains(Moment at) => From <= at && at < Until;
}
