using System.Collections.Immutable;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Web.Sight;
using AxleTelemetry.Web.Texts;

namespace AxleTelemetry.Web.Now;

/// <summary>Alerts of one state, to be counted and chosen.</summary>
/// <param name="Name">In the address.</param>
/// <param name="Words">For people.</param>
/// <param name="Fits">Whether an alert is of it.</param>
internal sealed record StateFilter(string Name, string Words, Func<AlertState, bool> Fits)
{
    /// <summary>Every open alert, then each state of ISA-18.2 in the order of its urgency.</summary>
    public static ImmutableArray<StateFilter> All { get; } =
    [
        new("open", Texts.Words.StateAll, _ => true),
        new("unacknowledged", Texts.Words.StateUnacknowledged, s => s is AlertState.Unacknowledged),
        new("returned", Texts.Words.StateReturned, s => s is AlertState.ReturnedUnacknowledged),
        new("unstated", Texts.Words.StateUnstated, s => s is AlertState.Unstated),
        new("acknowledged", Texts.Words.StateAcknowledged, s => s is AlertState.Acknowledged),
        new("shelved", Texts.Words.StateShelved, s => s is AlertState.Shelved),
        new("suppressed", Texts.Words.StateSuppressed, s => s is AlertState.SuppressedByDesign),
        new("out-of-service", Texts.Words.StateOutOfService, s => s is AlertState.OutOfService),
    ];

    public static StateFilter Of(string? name) => All.FirstOrDefault(f => f.Name == name) ?? All[0];

    public int Count(ImmutableArray<AlertLine> alerts) => alerts.Count(a => Fits(a.State));
}
