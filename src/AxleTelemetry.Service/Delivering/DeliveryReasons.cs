using System.Collections.Immutable;
using AxleTelemetry.Service.Health;
using AxleTelemetry.Storage.Delivering;

namespace AxleTelemetry.Service.Delivering;

/// <summary>What somebody should look at about delivery. None of it stops messages of vehicles from being taken.</summary>
internal static class DeliveryReasons
{
    private const int MostNamed = 5;

    public static ImmutableArray<ReasonDocument> Of(Deliveries? deliveries)
    {
        if (deliveries is null) return [];
        try
        {
            return
            [
                .. deliveries.Troubles.Select(t => Reason($"Changes of alerts are not taken in for delivery at present; they wait in the journal: {t}")),
                .. deliveries.NotingTroubles.Select(t => Reason($"Whom alerts reached is not entered into them at present; it waits with the deliveries: {t}")),
                .. Of(deliveries.Unread()),
                .. deliveries.AdviceTroubles.Select(t => Reason($"Advice does not reach the displays of drivers at present: {t}")),
                .. deliveries.States().SelectMany(Of),
            ];
        }
        catch (IOException unreadable)
        {
            return [Reason(unreadable.Message)];
        }
    }

    private static IEnumerable<ReasonDocument> Of(RecipientState state)
    {
        if (state is { Trouble: { } trouble, Waiting: > 0 }) yield return Reason(FormattableString.Invariant($"{state.Waiting} messages about alerts wait for {state.Recipient}: {trouble}"));
        if (state.Dead > 0) yield return Reason(FormattableString.Invariant($"{state.Dead} messages about alerts did not reach {state.Recipient} and were given up. 'axletelemetry deliveries' lists them and sends them again."));
    }

    private static IEnumerable<ReasonDocument> Of(ImmutableArray<UnreadChange> unread)
    {
        if (unread.IsEmpty) yield break;
        var some = string.Join("; ", unread.Take(MostNamed).Select(u => FormattableString.Invariant($"{u.Alert} (journal of {u.Shard}, batch {u.Position.Batch}, row {u.Position.Row})")));
        yield return Reason(FormattableString.Invariant($"{unread.Length} changes of alerts could not be read in the last 30 days, so that nobody was told of them by delivery: {some}{(unread.Length > MostNamed ? " and others" : "")}."));
    }

    private static ReasonDocument Reason(string sentence) => new("", "delivery", sentence, false);
}
