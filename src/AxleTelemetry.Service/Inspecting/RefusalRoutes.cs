using System.Collections.Immutable;
using AxleTelemetry.Service.Events;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Web.People;

namespace AxleTelemetry.Service.Inspecting;

/// <summary>The address of refused messages.</summary>
internal static class RefusalRoutes
{
    private const int Usual = 50, Most = 200, MostLookedAt = 10_000;

    public static void Map(IEndpointRouteBuilder api) => api.MapGet("/refusals", Read)
        .Needs(Right.ReadRaw).Takes(QueryParameter.Fleet, QueryParameter.Vehicle, new("reason", $"Only those with this as their first reason: {string.Join(", ", RefusalReasons.All)}."), QueryParameter.Limit(Usual, Most), QueryParameter.After)
        .Produces<RefusalList>().ProducesProblem(400)
        .WithSummary("Messages that were refused, newest first. A page may hold fewer than asked for and yet have a next one.");

    private static IResult Read(HttpContext http, Desks desks)
    {
        var asked = new Asked(http);
        var (fleet, vehicle, reason, limit) = (asked.Name("fleet"), asked.Vehicle(), asked.OneOf("reason", RefusalReasons.All), asked.Number("limit", Usual, 1, Most));
        var before = asked.Text("after") is { } text ? Positions.Parse(text) ?? asked.Refuse("after", text, "'next' of the page before", Positions.None) : Positions.None;
        if (asked.Problem is { } problem) return problem;
        var found = new List<RefusalDocument>();
        var (at, more) = (before!, true);
        for (var looked = 0; more && found.Count < limit && looked < MostLookedAt; looked += limit)
        {
            var page = Page(desks.Of(fleet), vehicle, at, limit);
            more = page.Length == limit;
            foreach (var (shard, kept) in page)
            {
                if (found.Count == limit)
                {
                    more = true;
                    break;
                }

                at = at.With(shard, kept.Position);
                if ((fleet is null || kept.Row.Vehicle.Fleet == fleet) && (reason is null || RefusalReasons.Code(kept.Row.Reason) == reason)) found.Add(RefusalDocument.Of(kept));
            }
        }

        return Results.Json(new RefusalList([.. found], more ? at.ToString() : null, Tallies(desks.Of(fleet), fleet, vehicle)));
    }

    /// <summary>The next refusals of several shards as one list: the newest first by our clock, each shard's own in its order.</summary>
    private static ImmutableArray<(string Shard, KeptRefusal Kept)> Page(ImmutableArray<ShardDesk> desks, VehicleName? vehicle, Positions before, int limit)
    {
        var rows = new List<(string Shard, KeptRefusal Kept)>();
        foreach (var desk in desks)
        {
            var query = new RefusalQuery { Vehicle = vehicle is { } v ? Codes.Of(v) : null, Before = before.Of(desk.Name, Position.End), Limit = limit };
            rows.AddRange(desk.Read(r => r.Refusals(query)).Select(k => (desk.Name, k)));
        }

        if (desks.Length == 1) return [.. rows];
        return [.. rows.OrderByDescending(r => r.Kept.Row.Received).Take(limit)];
    }

    private static ImmutableArray<TallyDocument> Tallies(ImmutableArray<ShardDesk> desks, string? fleet, VehicleName? vehicle) =>
    [
        .. desks.SelectMany(d => d.Read(r => r.RefusalTallies()))
            .Where(t => (fleet is null || t.Vehicle.Fleet == fleet) && (vehicle is not { } one || Codes.Of(one) == t.Vehicle))
            .Select(t => new TallyDocument(t.Vehicle.Fleet, t.Vehicle.Vehicle, t.Tally.Kept, t.Tally.Dropped)),
    ];
}
