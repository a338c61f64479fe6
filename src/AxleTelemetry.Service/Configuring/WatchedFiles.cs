using AxleTelemetry.Messages.Settings;

namespace AxleTelemetry.Service.Configuring;

/// <summary>The files and directories that settings name.</summary>
internal static class WatchedFiles
{
    public static IEnumerable<string> Of(ServiceSettings settings)
    {
        string?[] named = settings.Broker switch
        {
            BrokerSettings.External broker => [broker.CaFile, broker.CertificateFile, broker.KeyFile, broker.PasswordFile, settings.Http.ApiTokenFile],
            BrokerSettings.Embedded broker => [broker.CredentialsFile, settings.Http.ApiTokenFile],
            _ => throw new InvalidOperationException("A broker whose files nobody knows."),
        };
        return named.Append(settings.Series?.TokenFile).Append(settings.Http.OpenId?.ClientSecretFile).Concat(Of(settings.Delivery)).Concat(settings.Fleets.SelectMany(f => (string?[])[f.Vehicles, .. f.Tickets, f.Limits, f.Assumptions, f.Contacts, .. f.Permits])).OfType<string>().Distinct();
    }

    private static IEnumerable<string?> Of(DeliverySettings? delivery) => delivery is null ? [] :
        delivery.Recipients.Select(r => r.Outlet is OutletSettings.Webhook hook ? hook.SecretFile : null).Append(delivery.Mail?.PasswordFile).Append(delivery.Mail?.CaFile);
}
