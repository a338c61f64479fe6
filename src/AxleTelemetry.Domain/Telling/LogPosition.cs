namespace AxleTelemetry.Domain.Telling;

/// <summary>A place in the log of one shard, given by its only writer: whoever has seen one has seen all before it.</summary>
/// <param name="Batch">Number of the batch.</param>
/// <param name="Row">Row within it.</param>
/// <remarks><c>default</c> is before everything.</remarks>
public readonly record struct LogPosition(long Batch, int Row) : IComparable<LogPosition>
{
    /// <inheritdoc/>
    public int CompareTo(LogPosition other)
    {
        var order = Batch.CompareTo(other.Batch);
        return order == 0 ? Row.CompareTo(other.Row) : order;
    }
}
