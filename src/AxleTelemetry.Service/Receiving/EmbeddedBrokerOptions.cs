using System.Collections.Immutable;
using System.Net;
using System.Security.Cryptography.X509Certificates;

namespace AxleTelemetry.Service.Receiving;

/// <summary>The broker that runs inside when no other is configured.</summary>
internal sealed record EmbeddedBrokerOptions
{
    /// <summary>Where it listens; port 0 takes a free one.</summary>
    public IPEndPoint EndPoint { get; init; } = new(IPAddress.Loopback, 1883);

    /// <summary>Who may connect; <c>null</c> for anyone, on this machine only.</summary>
    public AccessList? Access { get; init; }

    /// <summary>Certificate with its key; <c>null</c> for no encryption.</summary>
    public X509Certificate2? Certificate { get; init; }

    public int MostPacketBytes { get; init; } = 64 * 1024;

    public int MostConnections { get; init; } = 10_000;

    /// <summary>What forbids these options; all reasons at once, none when they are good.</summary>
    public ImmutableArray<string> Problems()
    {
        var problems = ImmutableArray.CreateBuilder<string>();
        if (!IPAddress.IsLoopback(EndPoint.Address) && Access is null) problems.Add($"The embedded broker may listen on {EndPoint.Address} only with a list of devices and their passwords.");
        if (Certificate is { HasPrivateKey: false }) problems.Add("The embedded broker's certificate has no private key.");
        return problems.ToImmutable();
    }
}
