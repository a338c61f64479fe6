namespace AxleTelemetry.Storage.Writing;

/// <summary>What came of one write.</summary>
public abstract record WriteOutcome
{
    private WriteOutcome()
    {
    }

    /// <summary>In the journal and on the disk.</summary>
    /// <param name="Rows">Rows written, sealed or deleted; 0 when there was nothing to do, as when a batch was already there.</param>
    public sealed record Committed(long Rows) : WriteOutcome
    {
        /// <summary>Whether another step of the same work may find more to do.</summary>
        public bool More { get; init; }
    }

    /// <summary>Another owner opened the shard since: nothing was written, and nothing ever will be by this one.</summary>
    public sealed record Superseded(long ByEpoch) : WriteOutcome;

    /// <summary>The disk is full, or the reserve is given up and cannot be put back yet. Nothing was written; write the same again later.</summary>
    public sealed record DiskFull(string Why) : WriteOutcome;

    /// <summary>Nothing was written as far as can be known.</summary>
    /// <param name="Retryable">Whether writing the same again can succeed; false when the file is damaged.</param>
    /// <param name="Why">What the database said.</param>
    public sealed record Failed(bool Retryable, string Why) : WriteOutcome;
}
