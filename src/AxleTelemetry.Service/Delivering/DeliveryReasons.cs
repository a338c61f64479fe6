using System.Collections.Immutable;
using AxleTelemetry.Service.Health;

namespace AxleTelemetry.Service.Delivering;

/// <summary>What somebody should look at about delivery. None of it stops messages of vehicles from being taken.</summary>
internal static class DeliveryReasons
{
    public static ImmutableArray<ReasonDocument> Of(Deliveries? deliveries)
    {
        if (deliveries is null) return [];
        try
        {
            return
            [
                .. deliveries.Troubles.Select(t => Reason($"Changes of alerts are not taken in for delivery at present; they wait in the journal: {t}")),
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

    private static ReasonDocument Reason(string sentence) => new("", "delivery", sentence, false);
}
