namespace AxleTelemetry.Storage.Writing;

/// <summary>How far a transaction is.</summary>
internal enum CommitStage
{
    /// <summary>All rows are written, nothing is committed.</summary>
    Written,

    /// <summary>Committed, the caller does not know it yet.</summary>
    Committed,
}
