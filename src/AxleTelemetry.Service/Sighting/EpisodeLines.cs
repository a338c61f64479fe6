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
internal sealed class EpisodeLines(Desks desks, CombinationShelf shelf, (int Given, int Looked) bounds)
{
    public EpisodeLines(Desks desks, CombinationShelf shelf)
        : this(desks, shelf, (EpisodeQuery.Most, EpisodeQuery.MostLooked))
    {
    }

    private const int Page = 500;
    private static readonly Moment Earliest = new(long.MinValue / 2), Latest = new(long.MaxValue / 2);

    // On a thread of its own: neither a shard nor a page waits for what is looked through.
    public Task<EpisodesFound> ReadAsync(EpisodeQuery query, CancellationToken cancel) => Task.Run(() => FindAsync(query, cancel), cancel);

    private async Task<EpisodesFound> FindAsync(EpisodeQuery query, CancellationToken cancel)
    {
        var found = new List<EpisodesFound>();
        foreach (var desk in desks.Of(query.Vehicle?.Fleet)) found.Add(await FindAsync(desk, query, cancel));
        var back = found.Max(f => f.BackTo);
        // Of a shard that was looked through further than another nothing is shown from before that: it would read as if the other had nothing there.
        ImmutableArray<EpisodeLine> lines = [.. found.SelectMany(f => f.Lines).Where(l => back is not { } least || l.Since >= least || l.Ended is null).OrderByDescending(l => l.Since)];
        if (lines.Length > bounds.Given) (lines, back) = (lines[..bounds.Given], lines[bounds.Given - 1].Since);
        return new(lines, found.Sum(f => f.Looked), back);
    }

    private async Task<EpisodesFound> FindAsync(ShardDesk desk, EpisodeQuery query, CancellationToken cancel)
    {
        var lines = ImmutableArray.CreateBuilder<EpisodeLine>();
        var held = await HeldAsync(desk, query, cancel);
        var looked = 0;
        foreach (var row in Rows(desk, query))
        {
            cancel.ThrowIfCancellationRequested();
            held.Remove((row.Key.Unit, row.Key.Finding, row.Key.At));
            if (++looked > bounds.Looked || lines.Count == bounds.Given) return new(lines.ToImmutable(), looked - 1, row.Key.At);
            if (Line(row, await shelf.OfAsync(desk, row.Members, cancel)) is var line && query.Fits(line)) lines.Add(line);
        }

        foreach (var row in held.SelectMany(h => Row(desk, h)))
        {
            looked++;
            if (Line(row, await shelf.OfAsync(desk, row.Members, cancel)) is var line && query.Fits(line)) lines.Add(line);
        }

        return new(lines.ToImmutable(), looked, null);
    }

    /// <summary>What has been open since before the span: the journal finds a row by when something last changed of it, and of what just goes on nothing does.</summary>
    private static async Task<HashSet<(VehicleName Unit, FindingKey Finding, Moment Since)>> HeldAsync(ShardDesk desk, EpisodeQuery query, CancellationToken cancel)
    {
        if (query.From is not { } from) return [];
        try
        {
            var open = query.Vehicle is { } one
                ? await desk.AskAsync(s => s.Find(one)?.View?.Open.Select(f => (one, f.Key, f.Since)).ToArray() ?? [], cancel)
                : (await desk.AskAsync(s => s.Alerts, cancel)).Alerts.SelectMany(a => a.Episodes.Where(e => e.Holds && e.Subject.Finding is not null).Select(e => (a.Id.Vehicle, e.Subject.Finding!.Value, e.Since)));
            return [.. open.Where(o => o.Item3 < from && (!query.OverloadsOnly || o.Item2.Kind == FindingKind.Overload))];
        }
        catch (ShardNotRunningException)
        {
            // What it has written can be read all the same; that it ended is said on every page.
            return [];
        }
    }

    private static IEnumerable<HistoryRow.Episode> Row(ShardDesk desk, (VehicleName Unit, FindingKey Finding, Moment Since) held) =>
        Rows(desk, new EpisodeQuery { Vehicle = held.Unit, From = held.Since, To = held.Since }).Where(r => r.Key.At == held.Since && r.Key.Finding == held.Finding && r.ClosedAt is null);

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
