using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Drives;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Web.People;
using HistoryRow = AxleTelemetry.Domain.Histories.HistoryRow;
using RowKind = AxleTelemetry.Domain.Histories.RowKind;

namespace AxleTelemetry.Service.Register;

/// <summary>The address of the register of episodes.</summary>
internal static class RegisterRoutes
{
    private const int Usual = 100, Most = 500, MostLookedAt = 5_000;

    private static readonly IReadOnlyList<string> Kinds = [.. Enum.GetValues<FindingKind>().Select(JsonText.Word)];

    public static void Map(IEndpointRouteBuilder api) => api.MapGet("/episodes", ReadAsync)
        .Needs(Right.Look).Takes(QueryParameter.Fleet, QueryParameter.Vehicle, new("kind", $"Only this kind of finding: {string.Join(", ", Kinds)}."),
            QueryParameter.From, QueryParameter.To, new("open", "true: only those that are open; false: only those that ended."), QueryParameter.Limit(Usual, Most), QueryParameter.After)
        .Produces<EpisodeList>().ProducesProblem(400)
        .WithSummary("Episodes, newest first, that meet a span from their beginning to their last change. A page may hold fewer than asked for and yet have a next one.");

    private static async Task<IResult> ReadAsync(HttpContext http, Desks desks, CombinationShelf shelf)
    {
        var asked = new Asked(http);
        var want = new Wanted(asked.Name("fleet"), asked.Vehicle(), asked.OneOf("kind", Kinds), asked.Flag("open"));
        var span = new SampleSpan(asked.Time("from") ?? new Moment(long.MinValue / 2), asked.Time("to") ?? new Moment(long.MaxValue / 2));
        var (limit, after) = (asked.Number("limit", Usual, 1, Most), RegisterPlace.Read(asked));
        if (span.Least > span.Greatest) asked.Refuse<string>("from", span.Least.ToString(), "a time not after 'to'");
        if (asked.Problem is { } problem) return problem;
        var found = new List<(ShardDesk Desk, HistoryRow.Episode Row)>();
        for (var looked = 0; found.Count < limit;)
        {
            var page = Page(desks.Of(want.Fleet), new AcrossQuery(HistoryReading.KindOf(RowKind.Episode), span) { Fleet = want.Fleet, Vehicle = want.Vehicle is { } v ? Codes.Of(v) : null, After = after, Limit = limit });
            foreach (var (desk, place, row) in page)
            {
                if (found.Count == limit) break;
                after = place;
                if (row is not null && want.Fits(row)) found.Add((desk, row));
            }

            looked += page.Length;
            if (page.Length < limit) after = found.Count < limit ? null : after;
            if (after is null || looked >= MostLookedAt) break;
        }

        return Results.Json(new EpisodeList(await DocumentsAsync(found, shelf, http.RequestAborted), after is null ? null : RegisterPlace.Of(after), Cautions.Loads));
    }

    /// <summary>The next rows of several shards as one list.</summary>
    private static ImmutableArray<(ShardDesk Desk, AcrossPlace Place, HistoryRow.Episode? Row)> Page(ImmutableArray<ShardDesk> desks, AcrossQuery query)
    {
        var rows = new List<(ShardDesk Desk, AcrossPlace Place, HistoryRow.Episode? Row)>();
        foreach (var desk in desks)
            rows.AddRange(desk.Read(r => r.HistoryAcross(query)).Select(k => (desk, AcrossPlace.Of(k), HistoryReading.Row(k.Row.Bytes.AsSpan()) as HistoryRow.Episode)));
        rows.Sort((a, b) => RegisterPlace.Compare(a.Place, b.Place));
        return [.. rows.Take(query.Limit)];
    }

    private static async Task<ImmutableArray<EpisodeDocument>> DocumentsAsync(List<(ShardDesk Desk, HistoryRow.Episode Row)> rows, CombinationShelf shelf, CancellationToken cancel)
    {
        var documents = ImmutableArray.CreateBuilder<EpisodeDocument>(rows.Count);
        foreach (var (desk, row) in rows) documents.Add(EpisodeDocument.Of(row, await shelf.OfAsync(desk, row.Members, cancel)));
        return documents.MoveToImmutable();
    }

    private sealed record Wanted(string? Fleet, VehicleName? Vehicle, string? Kind, bool? Open)
    {
        public bool Fits(HistoryRow.Episode row) =>
            (Kind is null || JsonText.Word(row.Key.Finding.Kind) == Kind) && (Open is not { } open || open == row.ClosedAt is null);
    }
}
