using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Events;

/// <summary>How far somebody has come in each shard, as text: <c>main=12.3</c>, <c>east=4.0,west=7.12</c>, in ordinal order of the shards.</summary>
internal sealed record Positions(ImmutableSortedDictionary<string, Position> ByShard)
{
    public static Positions None { get; } = new(ImmutableSortedDictionary.Create<string, Position>(StringComparer.Ordinal));

    public Position Of(string shard, Position otherwise) => ByShard.TryGetValue(shard, out var position) ? position : otherwise;

    public Positions With(string shard, Position position) => new(ByShard.SetItem(shard, position));

    /// <summary>The positions of a text; <c>null</c> for another text.</summary>
    public static Positions? Parse(string text)
    {
        var all = None;
        foreach (var part in text.Split(','))
        {
            if (part.Split('=') is not [{ Length: > 0 } shard, var place] || ReadPosition(place) is not { } position || all.ByShard.ContainsKey(shard)) return null;
            all = all.With(shard, position);
        }

        return all;
    }

    public override string ToString() => string.Join(',', ByShard.Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.Key}={p.Value.Batch}.{p.Value.Row}")));

    private static Position? ReadPosition(string text) =>
        text.Split('.') is [var batch, var row]
        && long.TryParse(batch, NumberStyles.None, CultureInfo.InvariantCulture, out var b) && b <= Position.End.Batch
        && int.TryParse(row, NumberStyles.None, CultureInfo.InvariantCulture, out var r) && r < Position.RowsPerBatch
            ? new Position(b, r) : null;
}

/// <summary>The id of an event: the positions after it and when it was sent, s since 1970: <c>1772431200~main=12.3</c>. The time tells what may be gone since.</summary>
internal sealed record EventId(long SentAtSeconds, Positions Positions)
{
    public static EventId? Parse(string text) =>
        text.Split('~') is [var sent, var rest] && long.TryParse(sent, NumberStyles.None, CultureInfo.InvariantCulture, out var at) && Positions.Parse(rest) is { } positions
            ? new EventId(at, positions) : null;

    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{SentAtSeconds}~{Positions}");
}
