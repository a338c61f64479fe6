using System.Collections.Immutable;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Web.People;

namespace AxleTelemetry.Service.Overview;

/// <summary>Addresses of vehicles as they stand.</summary>
internal static class VehicleRoutes
{
    private const int Usual = 200, Most = 1000;

    public static void Map(IEndpointRouteBuilder api)
    {
        api.MapGet("/vehicles", ListAsync).Needs(Right.Look).Takes(QueryParameter.Fleet, QueryParameter.Limit(Usual, Most), QueryParameter.After)
            .Produces<VehicleList>().ProducesProblem(400).WithSummary("Vehicles with their present loads.");
        api.MapGet("/vehicles/{fleet}/{vehicle}", OneAsync).Needs(Right.Look).Takes()
            .Produces<VehicleDetail>().ProducesProblem(404).WithSummary("One vehicle with all that is counted of it.");
        api.MapPost("/vehicles/{fleet}/{vehicle}/resume", ResumeAsync).Needs(Right.Repair).Takes()
            .Produces(204).ProducesProblem(404).ProducesProblem(409).WithSummary("Runs a lane again that stopped by a fault of ours.");
    }

    private static async Task<IResult> ListAsync(HttpContext http, Desks desks, TimeProvider clock)
    {
        var asked = new Asked(http);
        var (fleet, limit, after) = (asked.Name("fleet"), asked.Number("limit", Usual, 1, Most), PagePlace.Read(asked));
        if (fleet is not null && desks.Find(fleet) is null) asked.Refuse<string>("fleet", fleet, "a fleet of the settings");
        if (asked.Problem is { } problem) return problem;
        var names = await FleetAsking.NamesAsync(desks.Of(fleet), http.RequestAborted);
        ImmutableArray<(Sharding.ShardDesk Desk, VehicleName Name)> fitting = [.. names.Where(n => fleet is null || n.Name.Fleet == fleet)];
        ImmutableArray<(Sharding.ShardDesk Desk, VehicleName Name)> page = [.. fitting.Where(n => after is not { } last || n.Name.CompareTo(last) > 0).Take(limit + 1)];
        var states = await FleetAsking.StatesAsync(page.Take(limit), http.RequestAborted);
        var (unknown, messages) = await UnknownAsync(desks, fleet, http.RequestAborted);
        return Results.Json(new VehicleList(
            clock.Now(), fitting.Length, [.. states.Select(VehicleWriting.Of)], page.Length > limit ? PagePlace.Of(page[limit - 1].Name) : null, unknown, messages, Cautions.Loads));
    }

    private static async Task<(ImmutableArray<UnknownDocument> Names, long Messages)> UnknownAsync(Desks desks, string? fleet, CancellationToken cancel)
    {
        var (all, messages) = (ImmutableArray.CreateBuilder<UnknownDocument>(), 0L);
        foreach (var desk in desks.Of(fleet))
        {
            var (names, count) = await desk.AskAsync(s => (s.Unknown.ByName.ToImmutableArray(), s.Unknown.Messages), cancel);
            all.AddRange(names.Where(n => fleet is null || n.Key.Fleet == fleet).Select(n => new UnknownDocument(n.Key.Fleet, n.Key.Id, n.Value)));
            messages += count;
        }

        return (all.ToImmutable(), messages);
    }

    private static async Task<IResult> OneAsync(string fleet, string vehicle, HttpContext http, Desks desks, TimeProvider clock)
    {
        var name = new VehicleName(fleet, vehicle);
        if (desks.Find(fleet) is not { } desk) return NoVehicle(name);
        var now = clock.Now();
        // Its counts go on changing, so the document of one vehicle is made on the shard's own thread.
        var detail = await desk.AskAsync(s => s.Find(name) is { } state ? VehicleDetail.Of(state, s.Refusals.Of(fleet, vehicle), now) : null, http.RequestAborted);
        return detail is null ? NoVehicle(name) : Results.Json(detail);
    }

    private static async Task<IResult> ResumeAsync(string fleet, string vehicle, HttpContext http, Desks desks)
    {
        var name = new VehicleName(fleet, vehicle);
        if (desks.Find(fleet) is not { } desk || !await desk.AskAsync(s => s.Find(name) is not null, http.RequestAborted)) return NoVehicle(name);
        return await desk.ResumeAsync(name, http.RequestAborted)
            ? Results.NoContent()
            : Problem.Of(StatusCodes.Status409Conflict, "Nothing to resume.", $"The lane of {vehicle} has not stopped, or it has none.");
    }

    /// <summary>No vehicle of that name is described or was heard.</summary>
    public static IResult NoVehicle(VehicleName name) => Problem.NotFound($"There is no vehicle '{name.Id}' in a fleet '{name.Fleet}'.");
}
