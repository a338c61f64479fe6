using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using RowKind = AxleTelemetry.Storage.Rows.RowKind;

namespace AxleTelemetry.Service.Sharding;

/// <summary>The raw messages behind episodes, which are kept as long as the episodes: who asks years later why a figure was what it was is answered by them.</summary>
internal static class EvidenceSpans
{
    // From the load's beginning it would be too much; what an interval rests on lies in the last minutes before it.
    private const double Before = 600, After = 60;
    private const int Page = 1000;

    /// <summary>Spans of each vehicle, of the episodes that began before a moment.</summary>
    public static ImmutableDictionary<VehicleKey, ImmutableArray<SampleSpan>> Of(JournalReader reader, Moment before)
    {
        var spans = new Dictionary<VehicleKey, ImmutableArray<SampleSpan>.Builder>();
        var query = new AcrossQuery(new RowKind((int)Domain.Histories.RowKind.Episode), new SampleSpan(new Moment(0), before)) { Limit = Page };
        for (var page = reader.HistoryAcross(query); !page.IsEmpty; page = reader.HistoryAcross(query))
        {
            foreach (var kept in page) Add(kept.Row, spans);
            query = query with { After = AcrossPlace.Of(page[^1]) };
        }

        return spans.ToImmutableDictionary(s => s.Key, s => s.Value.ToImmutable());
    }

    private static void Add(Storage.Rows.HistoryRow.Put put, Dictionary<VehicleKey, ImmutableArray<SampleSpan>.Builder> spans)
    {
        var from = new ByteReader(put.Bytes.AsSpan());
        if (HistoryRowCodec.Read(ref from) is not Domain.Histories.HistoryRow.Episode episode) return;
        var span = new SampleSpan(episode.Key.At.Plus(-Before), episode.Touched.Plus(After));
        foreach (var member in episode.Members)
        {
            if (!spans.TryGetValue(Codes.Of(member.Vehicle), out var own)) spans.Add(Codes.Of(member.Vehicle), own = ImmutableArray.CreateBuilder<SampleSpan>());
            own.Add(span);
        }
    }
}
