namespace AxleTelemetry.Service.Receiving;

/// <summary>The limits of an intake.</summary>
internal sealed record IntakeOptions
{
    /// <summary>The most bytes taken and not yet committed.</summary>
    public long MostBytes { get; init; } = 64 * 1024 * 1024;

    /// <summary>The most messages in a batch.</summary>
    public int BatchMessages { get; init; } = 5000;

    /// <summary>The most bytes in a batch; a single message may be more.</summary>
    public long BatchBytes { get; init; } = 8 * 1024 * 1024;

    /// <summary>How long commits may fail before senders are turned away.</summary>
    public TimeSpan Patience { get; init; } = TimeSpan.FromSeconds(10);
}
