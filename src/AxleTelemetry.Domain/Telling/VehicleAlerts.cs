using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Telling;

/// <summary>What the book holds of one vehicle.</summary>
public sealed record VehicleAlerts
{
    /// <summary>Open alerts kept at most; beyond it the oldest is given up, and says so.</summary>
    public const int MostOpen = 256;

    /// <summary>Closed alerts remembered at most; beyond it the oldest is forgotten.</summary>
    public const int MostClosed = 256;

    /// <summary>Nothing told yet.</summary>
    public static VehicleAlerts Empty { get; } = new();

    /// <summary>Its alerts in the order in which they became known.</summary>
    public ImmutableArray<Alert> Alerts { get; init; } = [];

    /// <summary>Episodes told with another whose own beginning has not come yet.</summary>
    public ImmutableArray<WaitingEpisode> Waiting { get; init; } = [];

    /// <summary>How often it is usually heard.</summary>
    public HearingHabit Hearing { get; init; } = HearingHabit.Unheard;

    /// <summary>What ended before this is no longer known here: a correction of it is the register's business and tells nothing.</summary>
    public Moment ForgottenBefore { get; init; }

    internal int IndexOf(AlertId id) => Index(a => a.Id == id);

    /// <summary>The alert that carries an episode; -1 where none does.</summary>
    internal int IndexOf(AlertSubject subject, Moment since) => Index(a => a.IndexOf(subject, since) >= 0);

    internal int Index(Func<Alert, bool> which)
    {
        for (var i = Alerts.Length - 1; i >= 0; i--)
            if (which(Alerts[i])) return i;
        return -1;
    }

    internal VehicleAlerts With(int index, Alert alert) => this with { Alerts = index < 0 ? Alerts.Add(alert) : Alerts.SetItem(index, alert) };
}

/// <summary>An episode that waits for the one it is told with.</summary>
/// <param name="Episode">The episode.</param>
/// <param name="Lead">What it is told with.</param>
/// <param name="Held">Event time of what was said of it.</param>
/// <param name="Source">The input that said it.</param>
public sealed record WaitingEpisode(ToldEpisode Episode, AlertSubject Lead, Moment Held, LogPosition Source);
