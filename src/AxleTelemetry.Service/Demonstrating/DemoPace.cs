using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Service.Demonstrating;

/// <summary>
/// When what happened on the simulated day is let out. The day began eight hours before the start: its first seven are let out at
/// once, as what devices have stored; the last hour six times faster than time passes, until it meets the present; then everything
/// at its own time. Nothing is let out before it has happened by the clock.
/// </summary>
internal sealed class DemoPace(TimeProvider clock)
{
    /// <summary>How many times faster than time passes the last hour goes by.</summary>
    public const int Times = 6;

    private const double SecondsAgo = 8 * 3600, Followed = 3600;

    private readonly Moment _start = Whole(clock);
    private Moment? _followsFrom;

    /// <summary>When the day began.</summary>
    public Moment DayBegins => _start.Plus(-SecondsAgo);

    /// <summary>The end of what is let out at once.</summary>
    public Moment StoredUntil => _start.Plus(-Followed);

    /// <summary>True from <see cref="Follow"/> on.</summary>
    public bool Follows => _followsFrom is not null;

    /// <summary>When, by the clock and on the day alike, the two meet; known once the last hour goes by.</summary>
    public Moment? Meets => _followsFrom is { } from ? StoredUntil.Plus(from.SecondsSince(StoredUntil) * Times / (Times - 1)) : null;

    /// <summary>Everything stored was taken: the last hour begins to go by now.</summary>
    public void Follow() => _followsFrom ??= Now();

    /// <summary>When something that happened at <paramref name="at"/> is let out, by the clock.</summary>
    public Moment Due(Moment at)
    {
        if (at < StoredUntil) return at;
        if (_followsFrom is not { } from) throw new InvalidOperationException("What was stored is let out first.");
        var passing = from.Plus(at.SecondsSince(StoredUntil) / Times);
        return passing > at ? passing : at;
    }

    /// <summary>True where it may be let out now.</summary>
    public bool IsDue(Moment at) => Due(at) <= Now();

    /// <summary>Waits until it may be let out.</summary>
    public async Task UntilDue(Moment at, CancellationToken cancel)
    {
        // A timer may come a moment early, and the clock may be set back meanwhile.
        while (Due(at).SecondsSince(Now()) is > 0 and var seconds) await Task.Delay(TimeSpan.FromSeconds(seconds), clock, cancel);
    }

    private Moment Now() => new(clock.GetUtcNow().ToUnixTimeMilliseconds());

    // Samples are of whole seconds.
    private static Moment Whole(TimeProvider clock) => new(clock.GetUtcNow().ToUnixTimeSeconds() * 1000);
}
