using System.Collections.Immutable;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Reading;

/// <summary>A change that a reader with a cursor carries outside.</summary>
public abstract record OutputChange
{
    private OutputChange(Position position) => Position = position;

    /// <summary>Where it stands; the cursor moves here once it is carried.</summary>
    public Position Position { get; }

    /// <summary>A row of history was written, anew or again, or has become void.</summary>
    public sealed record History(Position Position, HistoryRow Row) : OutputChange(Position)
    {
        /// <summary>The bytes of every version before this one that may stand outside, oldest first; none where nobody who claims has come so far, or the row was void then.</summary>
        public ImmutableArray<ImmutableArray<byte>> Carried { get; init; } = [];
    }

    /// <summary>Something was told.</summary>
    public sealed record Told(Position Position, TellingRow Row) : OutputChange(Position);
}
