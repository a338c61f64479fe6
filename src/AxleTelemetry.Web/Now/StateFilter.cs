using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Web.Sight;
using AxleTelemetry.Web.Texts;

namespace AxleTelemetry.Web.Now;

/// <summary>Alerts of one state, or that hold for long or come again and again, to be counted and chosen.</summary>
/// <param name="Name">In the address.</param>
/// <param name="Words">For people.</param>
/// <param name="Fits">Whether an alert is of it, at a moment.</param>
internal sealed record StateFilter(string Name, string Words, Func<AlertLine, Moment, bool> Fits)
{
    /// <summary>Every open alert, then each state of ISA-18.2 in the order of its urgency.</summary>
    public static ImmutableArray<StateFilter> All { get; } =
    [
        new("open", Texts.Words.StateAll, (_, _) => true),
        new("unacknowledged", Texts.Words.StateUnacknowledged, Is<AlertState.Unacknowledged>()),
        new("returned", Texts.Words.StateReturned, Is<AlertState.ReturnedUnacknowledged>()),
        new("unstated", Texts.Words.StateUnstated, Is<AlertState.Unstated>()),
        new("acknowledged", Texts.Words.StateAcknowledged, Is<AlertState.Acknowledged>()),
        new("shelved", Texts.Words.StateShelved, Is<AlertState.Shelved>()),
        new("suppressed", Texts.Words.StateSuppressed, Is<AlertState.SuppressedByDesign>()),
        new("out-of-service", Texts.Words.StateOutOfService, Is<AlertState.OutOfService>()),
    ];

    /// <summary>Alerts that hold for longer than a day.</summary>
    public static StateFilter Stale { get; } = new("stale", Texts.Words.StaleTitle, (a, at) => a.Holds && at.SecondsSince(a.KnownAt) > AlarmRate.StaleSeconds);

    /// <summary>Alerts that come again and again.</summary>
    public static StateFilter Chattering { get; } = new("chattering", Texts.Words.ChatterTitle, (a, _) => a.Count >= AlarmRate.ChatterCount);

    public static StateFilter Of(string? name) => All.Append(Stale).Append(Chattering).FirstOrDefault(f => f.Name == name) ?? All[0];

    public int Count(ImmutableArray<AlertLine> alerts, Moment at) => alerts.Count(a => Fits(a, at));

    private static Func<AlertLine, Moment, bool> Is<TState>() where TState : AlertState => (a, _) => a.State is TState;
}
