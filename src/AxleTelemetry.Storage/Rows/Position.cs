namespace AxleTelemetry.Storage.Rows;

/// <summary>
/// The place of a row in its shard: the batch of its last change and the row in that batch. Assigned by the only writer, so who has seen a
/// position has seen all before it. <c>default</c> lies before every row.
/// </summary>
public readonly record struct Position(long Batch, int Row) : IComparable<Position>
{
    /// <summary>Rows that a batch can number.</summary>
    public const int RowsPerBatch = 1 << RowBits;

    private const int RowBits = 20;

    /// <summary>Before every row.</summary>
    public static Position Start => default;

    /// <summary>After every row that can be.</summary>
    public static Position End => FromStored(long.MaxValue);

    // One integer in the tables: appended rows then stand at the end of a plain rowid table, which costs least.
    internal long Stored => (Batch << RowBits) | (uint)Row;

    internal static Position FromStored(long stored) => new(stored >> RowBits, (int)(stored & (RowsPerBatch - 1)));

    /// <inheritdoc/>
    public int CompareTo(Position other) => Stored.CompareTo(other.Stored);

    /// <summary>Before.</summary>
    public static bool operator <(Position a, Position b) => a.Stored < b.Stored;

    /// <summary>After.</summary>
    public static bool operator >(Position a, Position b) => a.Stored > b.Stored;

    /// <summary>Not after.</summary>
    public static bool operator <=(Position a, Position b) => a.Stored <= b.Stored;

    /// <summary>Not before.</summary>
    public static bool operator >=(Position a, Position b) => a.Stored >= b.Stored;
}
