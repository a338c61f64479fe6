using System.Collections.Immutable;

namespace AxleTelemetry.Storage.Rows;

/// <summary>
/// What one transaction writes: inputs, all they led to, and the states after them. Computed once; written again unchanged until it is
/// committed. Rows are numbered through: inputs, history, telling, refusals.
/// </summary>
/// <param name="Number">One more than the batch before it; the first is 1.</param>
public sealed record Batch(long Number)
{
    /// <summary>Inputs, in the order taken.</summary>
    public ImmutableArray<InputRow> Inputs { get; init; } = [];

    /// <summary>Changes of history; of two changes of one row the later holds.</summary>
    public ImmutableArray<HistoryRow> History { get; init; } = [];

    /// <summary>What was told.</summary>
    public ImmutableArray<TellingRow> Telling { get; init; } = [];

    /// <summary>What was refused.</summary>
    public ImmutableArray<RefusalRow> Refusals { get; init; } = [];

    /// <summary>States after this batch.</summary>
    public ImmutableArray<CheckpointRow> Checkpoints { get; init; } = [];

    /// <summary>States by event time, kept or dropped, in order.</summary>
    public ImmutableArray<SnapshotChange> Snapshots { get; init; } = [];

    /// <summary>Marks of history to be corrected, set or taken away, in order.</summary>
    public ImmutableArray<CorrectionMark> Corrections { get; init; } = [];

    /// <summary>All rows.</summary>
    public int Rows => Numbered + Checkpoints.Length + Snapshots.Length + Corrections.Length;

    internal int Numbered => Inputs.Length + History.Length + Telling.Length + Refusals.Length;
}
