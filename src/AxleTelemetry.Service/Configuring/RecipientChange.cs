using AxleTelemetry.Messages.Settings;

namespace AxleTelemetry.Service.Configuring;

/// <summary>What is different in who is told of alerts, in words.</summary>
internal static class RecipientChange
{
    /// <summary>A sentence; <c>null</c> where nothing is different that a running service takes.</summary>
    public static string? Between(ServiceConfiguration before, ServiceConfiguration after)
    {
        if (before.Settings.Delivery is not { } then || after.Settings.Delivery is not { } now) return null;
        if (Taken(then, now) && before.SameDeliverySecrets(after)) return null;
        string[] added = [.. Names(now).Except(Names(then))], gone = [.. Names(then).Except(Names(now))];
        return "Who is told of alerts, and how, holds as it is set now." + Say(" Told from now on: ", added) + Say(" Told nothing more, and what waited is given up: ", gone);
    }

    private static bool Taken(DeliverySettings then, DeliverySettings now) => DeliverySettings.Same(then, now with { AlertsByMqtt = then.AlertsByMqtt, AdviceByMqtt = then.AdviceByMqtt });

    private static IEnumerable<string> Names(DeliverySettings settings) => settings.Recipients.Select(r => r.Name);

    private static string Say(string words, string[] names) => names.Length == 0 ? "" : $"{words}{string.Join(", ", names)}.";
}
