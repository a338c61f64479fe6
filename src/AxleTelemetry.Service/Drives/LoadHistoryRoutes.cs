using System.Collections.Immutable;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Web.People;

namespace AxleTelemetry.Service.Drives;

/// <summary>The address of load histories.</summary>
internal static class LoadHistoryRoutes
{
    private const int Usual = 2_000, Most = 10_000;
    private const double UsualSpanSeconds = 24 * 3600, MostSpanSeconds = 400d * 24 * 3600;

    public static void Map(IEndpointRouteBuilder api) =>
        api.MapGet("/vehicles/{fleet}/{vehicle}/loads", ReadAsync)
            .Needs(Right.Look).Takes(QueryParameter.From, QueryParameter.To, new("points", $"Most points: 10 to {Most}, {Usual} where none is given."))
            .Produces<LoadHistoryDocument>().ProducesProblem(400).ProducesProblem(404)
            .WithSummary("History of loads, reduced for drawing; the last 24 h where no span is given.");

    private static async Task<IResult> ReadAsync(string fleet, string vehicle, HttpContext http, Desks desks, TimeProvider clock, CombinationShelf shelf)
    {
        var asked = new Asked(http);
        var to = asked.Time("to") ?? clock.Now();
        var from = asked.Time("from") ?? to.Plus(-UsualSpanSeconds);
        var points = asked.Number("points", Usual, 10, Most);
        if (from >= to) asked.Refuse<string>("from", from.ToString(), "a time before 'to'");
        if (to.SecondsSince(from) > MostSpanSeconds) asked.Refuse<string>("from", from.ToString(), "a span of at most 400 days");
        if (asked.Problem is { } problem) return problem;
        var name = new VehicleName(fleet, vehicle);
        if (desks.Find(fleet) is not { } desk) return VehicleRoutes.NoVehicle(name);
        if (!await desk.AskAsync(s => s.Find(name) is not null, http.RequestAborted)) return VehicleRoutes.NoVehicle(name);
        var stretches = LoadReduction.Reduce(HistoryReading.Loads(desk, name, (from, to)), from, to, points);
        var documents = ImmutableArray.CreateBuilder<StretchDocument>(stretches.Length);
        foreach (var stretch in stretches) documents.Add(StretchDocument.Of(stretch, await shelf.OfAsync(desk, stretch.Members, http.RequestAborted)));
        return Results.Json(new LoadHistoryDocument(fleet, vehicle, from, to, documents.MoveToImmutable(), Cautions.Loads));
    }
}
