using System.Collections.Immutable;

namespace AxleTelemetry.Service.Receiving;

/// <summary>A broker and how to receive from it. Holds no secret: the password stays in its file.</summary>
internal sealed record BrokerOptions
{
    public required string Host { get; init; }

    public int Port { get; init; } = 1883;

    /// <summary>Names our session at the broker: always the same for a shard, and no one else's.</summary>
    public required string ClientId { get; init; }

    /// <summary>The fleets to receive from; none for all.</summary>
    public ImmutableArray<string> Fleets { get; init; } = [];

    public string? User { get; init; }

    /// <summary>A file that holds the password on its first line. Read at each connection, so that it can be changed.</summary>
    public string? PasswordFile { get; init; }

    /// <summary>How to encrypt; <c>null</c> for not at all.</summary>
    public TlsOptions? Tls { get; init; }

    /// <summary>How long the broker keeps what we have not acknowledged while we are away.</summary>
    public TimeSpan SessionExpiry { get; init; } = TimeSpan.FromDays(7);

    /// <summary>How many messages the broker is asked to have under way at most; some send more.</summary>
    public ushort ReceiveMaximum { get; init; } = 2000;

    public int MostPacketBytes { get; init; } = 64 * 1024;

    public TimeSpan KeepAlive { get; init; } = TimeSpan.FromSeconds(15);

    /// <summary>How long connecting, subscribing or leaving may take.</summary>
    public TimeSpan Timeout { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>How long a sign of life may take to be answered. A busy broker reads it behind all acknowledgements on the way.</summary>
    public TimeSpan PingTimeout { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>The first wait before connecting again; it doubles, jittered.</summary>
    public TimeSpan FirstWait { get; init; } = TimeSpan.FromSeconds(1);

    public TimeSpan LongestWait { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>A connection that ends sooner counts as one that failed, so that two who take each other's session do not race.</summary>
    public TimeSpan Settled { get; init; } = TimeSpan.FromSeconds(5);

    /// <summary>As people read it.</summary>
    public string Address => FormattableString.Invariant($"{Host}:{Port}");
}
