using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Storage.Rows;

/// <summary>What names a row of history: the same key is the same row, written anew.</summary>
public readonly record struct HistoryKey(VehicleKey Vehicle, RowKind Kind, Moment Time, string Key);

/// <summary>A change of history.</summary>
public abstract record HistoryRow
{
    private HistoryRow(HistoryKey key) => Key = key;

    /// <summary>Which row.</summary>
    public HistoryKey Key { get; }

    /// <summary>From now on the row holds these bytes. Bytes equal to those in force are no change and move nothing.</summary>
    public sealed record Put(HistoryKey Key, ImmutableArray<byte> Bytes) : HistoryRow(Key)
    {
        /// <summary>What goes with the row and is not history: a revision number, the position since which, why. The digest leaves it out.</summary>
        public ImmutableArray<byte> Aside { get; init; } = [];

        /// <summary>
        /// The latest moment that had a part in the row, such as the end of an episode; <c>null</c> for the row's own time, as which it is
        /// read back where it was given as such. The digest leaves it out; another one is a change.
        /// </summary>
        public Moment? Touched { get; init; }
    }

    /// <summary>From now on there is no such row. It stays as a void row until every cursor has passed it.</summary>
    public sealed record Void(HistoryKey Key) : HistoryRow(Key);
}
