using System.Net;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Receiving;

namespace AxleTelemetry.Service.Hosting;

/// <summary>From what the operator wrote of brokers to what the receivers take.</summary>
internal static class ReceiverSetup
{
    /// <summary>The connection of a shard to a broker elsewhere.</summary>
    public static BrokerOptions Of(BrokerSettings.External broker, ShardSettings shard, SettingsPlace place) => new()
    {
        Host = broker.Host,
        Port = broker.Port,
        ClientId = broker.ClientIdOf(shard.Name),
        Fleets = shard.Fleets,
        User = broker.Username,
        PasswordFile = broker.PasswordFile is { } password ? place.Of(password) : null,
        Tls = Tls(broker, place),
        SessionExpiry = broker.SessionExpiry,
    };

    /// <summary>How a broker elsewhere is spoken to; <c>null</c> for not encrypted.</summary>
    public static TlsOptions? Tls(BrokerSettings.External broker, SettingsPlace place)
    {
        string? Of(string? file) => file is null ? null : place.Of(file);
        return broker.Tls ? new TlsOptions { AuthorityFile = Of(broker.CaFile), CertificateFile = Of(broker.CertificateFile), KeyFile = Of(broker.KeyFile) } : null;
    }

    /// <summary>The broker inside.</summary>
    public static EmbeddedBrokerOptions Of(BrokerSettings.Embedded broker, ServiceConfiguration configuration) => new()
    {
        EndPoint = new IPEndPoint(broker.Listen.Address, broker.Listen.Port),
        Access = configuration.Devices is { } devices ? new AccessList(devices, broker.Access) : null,
    };

    /// <summary>The bounds of a shard's intake.</summary>
    public static IntakeOptions Of(Bounds bounds) => new() { MostBytes = bounds.BytesInFlight };
}
