using System.Collections.Immutable;

namespace AxleTelemetry.Service.Watching;

/// <summary>What a person asked to be watched, every part of it read and in range.</summary>
internal sealed record WatchOrder
{
    /// <summary>Where messages come from.</summary>
    public required MessageOrigin Origin { get; init; }

    /// <summary>How the fleet is followed.</summary>
    public required WatchTuning Tuning { get; init; }

    /// <summary>True for one JSON object a line.</summary>
    public bool Json { get; init; }
}

/// <summary>What an operator may set about following a fleet.</summary>
internal sealed record WatchTuning
{
    /// <summary>
    /// How long the slowest stream of a combination is waited for. Devices gather samples for ten or twenty seconds in one stream and send another
    /// at once; what is taken in order is told with its remedy, what comes later only as a change.
    /// </summary>
    public TimeSpan Wait { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>Trailers behind powered vehicles that say nothing of their coupling, by the id of the powered one.</summary>
    public ImmutableDictionary<string, ImmutableArray<string>> Coupled { get; init; } = ImmutableDictionary<string, ImmutableArray<string>>.Empty;
}

/// <summary>Where messages come from.</summary>
internal abstract record MessageOrigin
{
    private MessageOrigin() { }

    /// <summary>A recording.</summary>
    /// <param name="File">Its path.</param>
    /// <param name="Speed">Times real time; <c>null</c>: as fast as it goes.</param>
    public sealed record Recording(string File, double? Speed) : MessageOrigin;

    /// <summary>A broker.</summary>
    public sealed record Broker(string Host, int Port) : MessageOrigin
    {
        /// <summary>User name; <c>null</c> for none.</summary>
        public string? User { get; init; }

        /// <summary>Password; <c>null</c> for none.</summary>
        public ImmutableArray<byte>? Password { get; init; }

        /// <summary>True to speak TLS, with the certificates that this machine trusts.</summary>
        public bool Tls { get; init; }

        /// <inheritdoc/>
        public override string ToString() => $"{Host}:{Port}";
    }
}
