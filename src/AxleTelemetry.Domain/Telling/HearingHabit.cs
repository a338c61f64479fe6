using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Telling;

/// <summary>
/// How long a vehicle is usually silent: the greatest gap of each of the last fifteen days on which it was heard. The habit
/// is the second greatest of them, so that two weekends make a habit and one breakdown does not.
/// </summary>
/// <param name="HeardAt">When it was heard last; <c>null</c> never.</param>
/// <param name="Days">Greatest gap that ended on each day, oldest first.</param>
public sealed record HearingHabit(Moment? HeardAt, ImmutableArray<DayGap> Days)
{
    private const int MostDays = 15, LeastDays = 3;
    private const double Slack = 1.25;
    private const long Day = 86_400_000;

    /// <summary>Never heard.</summary>
    public static HearingHabit Unheard { get; } = new(null, []);

    /// <summary>The usual longest silence; <c>null</c> while fewer than three days are known.</summary>
    public TimeSpan? Usual => Days.Length < LeastDays ? null : TimeSpan.FromSeconds(Days.Select(d => d.Seconds).OrderDescending().ElementAt(1));

    /// <summary>The vehicle was heard. What is not later than before changes nothing.</summary>
    public HearingHabit Hear(Moment at)
    {
        if (HeardAt is not { } before) return new HearingHabit(at, []);
        if (at <= before) return this;
        var day = Math.DivRem(at.UnixMilliseconds, Day).Quotient;
        var gap = (int)Math.Min(int.MaxValue, (at.UnixMilliseconds - before.UnixMilliseconds) / 1000);
        if (Days.IsEmpty || Days[^1].Day != day) return new HearingHabit(at, Shortened(Days.Add(new DayGap(day, gap))));
        return new HearingHabit(at, gap > Days[^1].Seconds ? Days.SetItem(Days.Length - 1, new DayGap(day, gap)) : Days);
    }

    /// <summary>The silence from which on it is told.</summary>
    public TimeSpan Limit(AlertSettings settings)
    {
        if (Usual is not { } usual) return settings.SilenceOfStranger;
        var limit = usual * Slack;
        if (limit < settings.LeastSilence) return settings.LeastSilence;
        return limit > settings.MostSilence ? settings.MostSilence : limit;
    }

    private static ImmutableArray<DayGap> Shortened(ImmutableArray<DayGap> days) => days.Length > MostDays ? days.RemoveAt(0) : days;
}

/// <summary>The greatest gap that ended on a day.</summary>
/// <param name="Day">Days since 1970-01-01.</param>
/// <param name="Seconds">Length of the gap, s.</param>
public readonly record struct DayGap(long Day, int Seconds);
