using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Telling;

/// <summary>
/// How many alarms people get, beside what one person can manage. Counts changes that ring. Figures of ISA-18.2 / IEC 62682,
/// from a secondary copy: 6 an hour acceptable, 12 the most manageable; flood is more than 10 in 10 min; stale is over 24 h.
/// </summary>
public static class AlarmRate
{
    /// <summary>Alarms an hour that one person can take without trouble.</summary>
    public const int AcceptablePerHour = 6;

    /// <summary>Most alarms an hour that one person can manage.</summary>
    public const int ManageablePerHour = 12;

    /// <summary>More alarms than this in ten minutes are a flood.</summary>
    public const int FloodAbove = 10;

    /// <summary>What holds longer than this is stale, s.</summary>
    public const double StaleSeconds = 86_400;

    /// <summary>What came as often as this chatters.</summary>
    public const int ChatterCount = 3;

    private const double Hour = 3600, FloodSeconds = 600;

    /// <summary>Alarms in the hour that ends at a moment, the moment included.</summary>
    public static int PerHour(IEnumerable<AlertChange> changes, Moment at) =>
        changes.Count(c => c.Rings && c.At <= at && at.SecondsSince(c.At) < Hour);

    /// <summary>How an hourly rate sits beside what one person can manage.</summary>
    public static Burden BurdenOf(int perHour) => perHour switch
    {
        <= AcceptablePerHour => Burden.Acceptable,
        <= ManageablePerHour => Burden.Manageable,
        _ => Burden.TooMuch,
    };

    /// <summary>The floods among changes in the order of time: every stretch in which each alarm is one of more than ten within ten minutes.</summary>
    public static ImmutableArray<Flood> Floods(IEnumerable<AlertChange> changes)
    {
        var times = changes.Where(c => c.Rings).Select(c => c.At).ToArray();
        var floods = ImmutableArray.CreateBuilder<Flood>();
        var (from, to) = (0, -1);
        for (var first = 0; first + FloodAbove < times.Length; first++)
        {
            var last = first + FloodAbove;
            if (times[last].SecondsSince(times[first]) >= FloodSeconds) continue;
            if (first > to && to >= 0) floods.Add(new Flood(times[from], times[to], to - from + 1));
            if (first > to) from = first;
            to = last;
        }

        if (to >= 0) floods.Add(new Flood(times[from], times[to], to - from + 1));
        return floods.ToImmutable();
    }

    /// <summary>Alerts that have held for more than 24 h, longest first.</summary>
    public static ImmutableArray<Alert> Stale(AlertBook book, Moment at) =>
        [.. book.Alerts.Where(a => a.Holds && at.SecondsSince(a.KnownAt) > StaleSeconds).OrderBy(a => a.KnownAt)];

    /// <summary>Alerts that came three times or more, most often first.</summary>
    public static ImmutableArray<Alert> Chattering(AlertBook book) => [.. book.Alerts.Where(a => a.Chatters).OrderByDescending(a => a.Count)];
}

/// <summary>A stretch with more alarms than anybody can read.</summary>
/// <param name="From">First of them.</param>
/// <param name="To">Last of them.</param>
/// <param name="Count">How many.</param>
public readonly record struct Flood(Moment From, Moment To, int Count);

/// <summary>A rate beside what one person can manage.</summary>
public enum Burden
{
    /// <summary>Acceptable.</summary>
    Acceptable,

    /// <summary>The most that is manageable.</summary>
    Manageable,

    /// <summary>More than one person can manage.</summary>
    TooMuch,
}
