using AxleTelemetry.Domain.Telling;

namespace AxleTelemetry.Service.Telling;

/// <summary>Most urgent first: what rings before what is put aside, then what waits for notice, priority, how long it has waited; the id last, so that the order is whole.</summary>
internal static class AlertOrder
{
    public static IOrderedEnumerable<Alert> MostUrgentFirst(IEnumerable<Alert> alerts) => alerts
        .OrderBy(a => a.State is AlertState.Shown ? 0 : 1)
        .ThenBy(a => Rank(a.State.Behind()))
        .ThenByDescending(a => a.Priority)
        .ThenBy(a => a.WaitingSince)
        .ThenBy(a => a.Id.ToString(), StringComparer.Ordinal);

    private static int Rank(AlertState.Shown state) => state switch
    {
        AlertState.Unacknowledged => 0,
        AlertState.ReturnedUnacknowledged => 1,
        AlertState.Unstated => 2,
        AlertState.Acknowledged => 3,
        AlertState.Normal => 4,
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state."),
    };
}
