using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Drives;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Register;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Web.Sight;
using HistoryRow = AxleTelemetry.Domain.Histories.HistoryRow;
using RowKind = AxleTelemetry.Domain.Histories.RowKind;

namespace AxleTelemetry.Service.Sighting;

/// <summary>Episodes out of the journal as lines of a page, newest first.</summary>
internal sealed class EpisodeLines(Desks desks, CombinationShelf shelf)
{
    private const int Page = 500;
    private static readonly Moment Earliest = new(long.MinValue / 2), Latest = new(long.MaxValue / 2);

    public async Task<ImmutableArray<EpisodeLine>> ReadAsync(EpisodeQuery query, CancellationToken cancel)
    {
        var lines = new List<EpisodeLine>();
        foreach (var desk in desks.Of(query.Vehicle?.Fleet))
            foreach (var row in await Task.Run(() => Rows(desk, query).Take(EpisodeQuery.Most).ToArray(), cancel))
                lines.Add(Line(row, await shelf.OfAsync(desk, row.Members, cancel)));
        return [.. lines.OrderByDescending(l => l.Since).Take(EpisodeQuery.Most)];
    }

    private static IEnumerable<HistoryRow.Episode> Rows(ShardDesk desk, EpisodeQuery query)
    {
        var across = new AcrossQuery(HistoryReading.KindOf(RowKind.Episode), new SampleSpan(query.From ?? Earliest, query.To ?? Latest))
        {
            Fleet = query.Vehicle?.Fleet, Vehicle = query.Vehicle is { } vehicle ? Codes.Of(vehicle) : null, Limit = Page,
        };
        while (true)
        {
            var asked = across;
            var page = desk.Read(r => r.HistoryAcross(asked));
            foreach (var kept in page)
                if (HistoryReading.Row(kept.Row.Bytes.AsSpan()) is HistoryRow.Episode row && (!query.OverloadsOnly || row.Key.Finding.Kind == FindingKind.Overload))
                    yield return row;
            if (page.Length < Page) yield break;
            across = across with { After = AcrossPlace.Of(page[^1]) };
        }
    }

    private static EpisodeLine Line(HistoryRow.Episode row, Combination? combination)
    {
        var document = EpisodeDocument.Of(row, combination);
        var limit = row.Subject as EpisodeSubject.Limit;
        return new EpisodeLine
        {
            Vehicle = row.Key.Unit,
            Plate = combination?.Vehicles[0].Plate ?? "",
            About = document.About,
            Finding = row.Key.Finding,
            Since = row.Key.At,
            Ended = row.ClosedAt,
            Reached = row.Reached,
            Sentence = document.Sentence,
            Limit = limit?.Scale,
            Peak = limit?.Peak,
            Source = document.Limit?.Source.Place ?? "",
            Band = document.Band?.Words ?? "",
            Lifts = document.Lifts,
            Latitude = row.Place?.Latitude,
            Longitude = row.Place?.Longitude,
            Versions = string.Join(", ", row.Members.Select(m => $"{m.Vehicle.Id} v{m.Version}")),
        };
    }
}
