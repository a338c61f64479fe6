using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using HistoryRow = AxleTelemetry.Domain.Histories.HistoryRow;
using RowKind = AxleTelemetry.Domain.Histories.RowKind;

namespace AxleTelemetry.Service.Drives;

/// <summary>Rows of history out of the journal, as rows of the core.</summary>
internal static class HistoryReading
{
    private const int Page = 1_000;

    /// <summary>The loads of a vehicle in a span, in order. A page at a time: between two of them the journal may be folded.</summary>
    public static IEnumerable<HistoryRow.Load> Loads(ShardDesk desk, VehicleName vehicle, (Moment From, Moment To) span)
    {
        var query = new HistoryQuery(Codes.Of(vehicle), KindOf(RowKind.Load), new SampleSpan(span.From, span.To)) { Limit = Page };
        while (true)
        {
            var asked = query;
            var rows = desk.Read(r => r.History(asked));
            foreach (var row in rows)
                if (Row(row.Row.Bytes.AsSpan()) is HistoryRow.Load load) yield return load;
            if (rows.Length < Page) yield break;
            query = query with { After = (rows[^1].Row.Key.Time, rows[^1].Row.Key.Key) };
        }
    }

    /// <summary>The kind as the journal numbers it.</summary>
    public static Storage.Rows.RowKind KindOf(RowKind kind) => new((int)kind);

    /// <summary>A row of its bytes; <c>null</c> for those of another version.</summary>
    public static HistoryRow? Row(ReadOnlySpan<byte> bytes)
    {
        var reader = new ByteReader(bytes);
        return HistoryRowCodec.Read(ref reader);
    }
}
