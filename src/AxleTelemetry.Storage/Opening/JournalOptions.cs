namespace AxleTelemetry.Storage.Opening;

/// <summary>What may be set about a journal.</summary>
public sealed record JournalOptions
{
    /// <summary>
    /// Bytes of the reserve file beside the journal, given up when the disk is full; 0 for none. It must hold what the log may hold (4 MiB and
    /// two batches), since folding the log lengthens the database before it shortens the log.
    /// </summary>
    public long ReserveBytes { get; init; } = 64L << 20;

    /// <summary>Refusals kept per vehicle.</summary>
    public int RefusalsPerVehicle { get; init; } = 1_000;

    /// <summary>Bytes of refusals kept in all, each counted with 64 bytes for itself.</summary>
    public long RefusalBytes { get; init; } = 100_000_000;

    /// <summary>A journal of at most so many bytes is checked whole when opened; a larger one in its head and owner only, since that reads every page.</summary>
    public long CheckWholeUpTo { get; init; } = 256L << 20;
}
