namespace AxleTelemetry.Service.Receiving;

/// <summary>A message taken from a broker or a device, and whom to tell once it is committed.</summary>
internal readonly record struct Received
{
    // What a message costs beside its text and bytes: its objects and its place in queue and batch.
    private const int Overhead = 256;

    /// <summary>Counted from 1 in the order taken, by the intake.</summary>
    public long Number { get; init; }

    /// <summary>When it was taken, by our clock.</summary>
    public DateTimeOffset At { get; init; }

    public required string Topic { get; init; }

    public required ReadOnlyMemory<byte> Payload { get; init; }

    /// <summary>Which encoding; <c>null</c> where the sender did not say.</summary>
    public string? ContentType { get; init; }

    /// <summary>The sender says that it may have sent this before.</summary>
    public bool Redelivered { get; init; }

    /// <summary>Who waits for the acknowledgement; <c>null</c> for quality of service 0, which promises nothing.</summary>
    public IAcknowledger? Acknowledger { get; init; }

    public ushort PacketId { get; init; }

    /// <summary>What holding it costs in memory, bytes.</summary>
    public int Bytes => Payload.Length + 2 * Topic.Length + Overhead;
}
