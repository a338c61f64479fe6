using System.Collections.Immutable;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Web.People;

namespace AxleTelemetry.Service.Telling;

/// <summary>Addresses of alerts. An id is itself a path of four parts, so it needs no escaping; escaped colons are taken as well.</summary>
internal static class AlertRoutes
{
    private const int Usual = 100, Most = 500;
    private const string One = "/alerts/{fleet}/{vehicle}/{subject}/{since}";

    private static readonly ImmutableArray<string> Actions = ["acknowledge", "shelve", "unshelve", "state-done", "take-out-of-service", "put-back"];

    public static void Map(IEndpointRouteBuilder api)
    {
        api.MapGet("/alerts", ListAsync)
            .Needs(Right.Look).Takes(new("state", $"Only those in this state: {string.Join(", ", StateDocument.Codes)}. Without it those that are open."), QueryParameter.Fleet, QueryParameter.Vehicle, QueryParameter.Limit(Usual, Most), QueryParameter.After)
            .Produces<AlertList>().ProducesProblem(400).WithSummary("Alerts, most urgent first.");
        api.MapGet(One, OneAsync).Needs(Right.Look).Takes().Produces<AlertDetail>().ProducesProblem(404).WithSummary("An alert with its changes.");
        foreach (var action in Actions)
        {
            api.MapPost($"{One}/{action}", (string fleet, string vehicle, string subject, string since, HttpContext http, Desks desks) =>
                    ActionTaking.TakeAsync(action, $"{fleet}/{vehicle}/{subject}/{since}", http, desks))
                .Needs(Right.Act).Takes().Accepts<ActionRequest>("application/json").Produces<ActionDone>().ProducesProblem(400).ProducesProblem(404).ProducesProblem(409).ProducesProblem(422).ProducesProblem(503)
                .WithSummary(ActionTaking.Summary(action));
        }
    }

    private static async Task<IResult> ListAsync(HttpContext http, Desks desks, TimeProvider clock)
    {
        var asked = new Asked(http);
        var (state, fleet, vehicle) = (asked.OneOf("state", StateDocument.Codes), asked.Name("fleet"), asked.Vehicle());
        var (limit, skip) = (asked.Number("limit", Usual, 1, Most), asked.Number("after", 0, 0, int.MaxValue));
        if (asked.Problem is { } problem) return problem;
        var alerts = new List<Alert>();
        foreach (var desk in desks.Of(fleet)) alerts.AddRange((await desk.AskAsync(s => s.Alerts, http.RequestAborted)).Alerts);
        ImmutableArray<Alert> fitting = [.. alerts.Where(a => (fleet is null || a.Id.Vehicle.Fleet == fleet) && (vehicle is null || a.Id.Vehicle == vehicle) && Fits(a.State, state))];
        ImmutableArray<Alert> page = [.. AlertOrder.MostUrgentFirst(fitting).Skip(skip).Take(limit)];
        var next = skip + page.Length < fitting.Length ? (skip + page.Length).ToString(System.Globalization.CultureInfo.InvariantCulture) : null;
        return Results.Json(new AlertList(clock.Now(), fitting.Length, await DocumentsAsync(page, desks, http.RequestAborted), next, Cautions.Loads));
    }

    private static bool Fits(AlertState state, string? code) => code is null ? state.IsOpen : StateDocument.Of(state).Code == code;

    private static async Task<ImmutableArray<AlertDocument>> DocumentsAsync(ImmutableArray<Alert> alerts, Desks desks, CancellationToken cancel)
    {
        var vehicles = alerts.Select(a => a.Id.Vehicle).Distinct().Select(v => (desks.Find(v.Fleet), v)).Where(p => p.Item1 is not null).Select(p => (p.Item1!, p.v));
        var states = (await FleetAsking.StatesAsync(vehicles, cancel)).ToDictionary(s => s.Name);
        return [.. alerts.Select(a => AlertDocument.Of(a, states.GetValueOrDefault(a.Id.Vehicle)?.View?.Combination) with { Told = desks.Find(a.Id.Vehicle.Fleet) is { } desk ? LastTold(desk, a.Id)?.Sentence : null })];
    }

    /// <summary>What was told of an alert last in full; <c>null</c> where it is no longer kept.</summary>
    public static AlertChangeDocument? LastTold(ShardDesk desk, AlertId id) =>
        ToldChanges.Of(desk, id.Vehicle, id.ToString()).LastOrDefault(c => c.Cause is "began" or "rose" or "fell" or "repeated" or "holds_still");

    private static async Task<IResult> OneAsync(string fleet, string vehicle, string subject, string since, HttpContext http, Desks desks)
    {
        var key = $"{fleet}/{vehicle}/{subject}/{since}";
        if (desks.Find(fleet) is not { } desk) return NoAlert(key);
        var alert = await FindAsync(desk, key, http.RequestAborted);
        var changes = ToldChanges.Of(desk, new VehicleName(fleet, vehicle), key);
        if (alert is null && changes.IsEmpty) return NoAlert(key);
        var shown = alert is null ? null : (await DocumentsAsync([alert], desks, http.RequestAborted))[0];
        return Results.Json(new AlertDetail(shown, changes, Deliveries(desks, key), Cautions.Loads));
    }

    private static ImmutableArray<DeliveryDocument>? Deliveries(Desks desks, string alert)
    {
        try
        {
            return [.. (desks.Deliveries?.About(alert) ?? []).Select(DeliveryDocument.Of)];
        }
        catch (IOException)
        {
            // Health says that what is delivered cannot be read; the alert is told all the same.
            return null;
        }
    }

    /// <summary>An alert by the text of its id; <c>null</c> where the book does not keep it.</summary>
    public static async Task<Alert?> FindAsync(ShardDesk desk, string id, CancellationToken cancel) => (await desk.AskAsync(s => s.Alerts, cancel)).Find(id);

    public static IResult NoAlert(string id) => Problem.NotFound($"There is no alert '{Messages.Refusals.Excerpt.Of(id.AsSpan())}', or it closed so long ago that it is no longer kept.");
}
