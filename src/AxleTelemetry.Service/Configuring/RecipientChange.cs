using System.Collections.Immutable;
using AxleTelemetry.Messages.Settings;

namespace AxleTelemetry.Service.Configuring;

/// <summary>
/// What becomes of a change in who is told of alerts. Decided by what runs, not by what was read last: what was read may hold only after a restart, and nobody may
/// be said to be told who is not.
/// </summary>
/// <param name="Told">What is different from now on, in a sentence; <c>null</c> where nothing is that a running service takes.</param>
/// <param name="AfterRestart">Properties of the settings that changed and hold only after a restart.</param>
internal sealed record RecipientChange(string? Told, ImmutableArray<string> AfterRestart)
{
    private static readonly RecipientChange None = new(null, []), Waits = new(null, ["delivery"]);

    /// <summary>What becomes of it.</summary>
    /// <param name="running">By what people are told at present; <c>null</c> where nobody is.</param>
    /// <param name="before">What was read before.</param>
    /// <param name="after">What is read now.</param>
    public static RecipientChange Of(ServiceConfiguration? running, ServiceConfiguration before, ServiceConfiguration after)
    {
        if (Same(before, after)) return None;
        // Whether there is delivery at all is wired at the start.
        if (running?.Settings.Delivery is not { } then) return after.Settings.Delivery is null ? None : Waits;
        if (after.Settings.Delivery is not { } now) return Waits;
        // And so is what goes to brokers; what is set back to that waits no more.
        var waits = ByMqtt(now) != ByMqtt(then) && (before.Settings.Delivery is not { } last || ByMqtt(now) != ByMqtt(last));
        // Put back after it was said to be gone, it is told of though nothing is different.
        var isTold = before.Settings.Delivery is null || !Taken(then, now) || !running.SameDeliverySecrets(after);
        return new RecipientChange(isTold ? Sentence(then, now) : null, waits ? ["delivery.mqtt"] : []);
    }

    private static string Sentence(DeliverySettings then, DeliverySettings now)
    {
        string[] added = [.. Names(now).Except(Names(then))], gone = [.. Names(then).Except(Names(now))];
        return "Who is told of alerts, and how, holds as it is set now." + Say(" Told from now on: ", added) + Say(" Told nothing more, and what waited is given up: ", gone);
    }

    private static bool Same(ServiceConfiguration one, ServiceConfiguration other) => DeliverySettings.Same(one.Settings.Delivery, other.Settings.Delivery) && one.SameDeliverySecrets(other);

    private static bool Taken(DeliverySettings then, DeliverySettings now) => DeliverySettings.Same(then, now with { AlertsByMqtt = then.AlertsByMqtt, AdviceByMqtt = then.AdviceByMqtt });

    private static (bool Alerts, bool Advice) ByMqtt(DeliverySettings settings) => (settings.AlertsByMqtt, settings.AdviceByMqtt);

    private static IEnumerable<string> Names(DeliverySettings settings) => settings.Recipients.Select(r => r.Name);

    private static string Say(string words, string[] names) => names.Length == 0 ? "" : $"{words}{string.Join(", ", names)}.";
}
