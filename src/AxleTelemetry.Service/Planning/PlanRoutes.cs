using System.Collections.Immutable;
using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Service.Drawing;
using AxleTelemetry.Service.Inputs;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Web.People;

namespace AxleTelemetry.Service.Planning;

/// <summary>Addresses of the planner.</summary>
internal static class PlanRoutes
{
    private const int MostDrops = 100;
    private const string Begin = "Right would be ";

    private static QueryParameter[] Parameters =>
    [
        new("payload_kg", "Payload of the vehicle that varies, kg. Default: what is inferred, else all that is dropped, else none."),
        new("centre_m", "Where its centre is, metres along its body; belongs to 'payload_kg'. Default: where the vehicle file expects it."),
        new("drops", "What is taken off, in this order: KG@METRES with commas between, for example 4000@7.2,3000@4.4."),
        new("front_overhang_m", "From the first axle forward to the front corners, metres. Default: as described, else common practice."),
        new("width_m", "Width of the vehicles, metres. Default: as described, else the greatest of Directive 96/53/EC."),
        new("of", "Whose payload the diagrams vary; needed where several vehicles carry."),
    ];

    public static void Map(IEndpointRouteBuilder api)
    {
        api.MapGet("/vehicles/{fleet}/{vehicle}/plan", (string fleet, string vehicle, HttpContext http, Desks desks, TimeProvider clock) =>
            AnswerAsync(new VehicleName(fleet, vehicle), http, (desks, clock), sheet => Results.Json(PlanWriting.Of(sheet))))
            .Needs(Right.Look).Takes(Parameters).Produces<PlanDocument>().ProducesProblem(400).ProducesProblem(404).ProducesProblem(409)
            .WithSummary("Where payload may stand in every position of the lifts, and what each drop does.");
        api.MapGet("/vehicles/{fleet}/{vehicle}/plan.svg", (string fleet, string vehicle, HttpContext http, Desks desks, TimeProvider clock) =>
            AnswerAsync(new VehicleName(fleet, vehicle), http, (desks, clock), sheet => Results.Text(SceneSvg.Of(PlanPicture.Of(sheet)), "image/svg+xml")))
            .Needs(Right.Look).Takes(Parameters).Produces(200, contentType: "image/svg+xml").ProducesProblem(400).ProducesProblem(404).ProducesProblem(409)
            .WithSummary("The load-distribution diagram as a picture.");
    }

    private static async Task<IResult> AnswerAsync(VehicleName name, HttpContext http, (Desks Desks, TimeProvider Clock) at, Func<PlanSheet, IResult> write)
    {
        if (at.Desks.Find(name.Fleet) is not { } desk) return VehicleRoutes.NoVehicle(name);
        var now = at.Clock.Now();
        switch (await desk.AskAsync(s => LivePlan.Of(s, name, now), http.RequestAborted))
        {
            case LivePlan.Unknown:
                return VehicleRoutes.NoVehicle(name);
            case LivePlan.Trailer trailer:
                return Problem.Of(StatusCodes.Status409Conflict, "A trailer is planned with the unit ahead of it.",
                    trailer.Behind is { } unit ? $"Ask for '{unit.Id}', with of={name.Id}." : $"'{name.Id}' hangs on no unit now. The command 'plan' takes vehicle files in any combination.");
            case LivePlan.Ready ready:
                var errors = new List<InputProblem>();
                return PlanOrdering.Of(ready.Basis, (Read(http.Request.Query, errors), PlanFields.Address), errors) is { } order && errors.Count == 0
                    ? write(PlanDesk.Work(order))
                    : Refused(errors[0]);
            default:
                throw new InvalidOperationException("An outcome that nobody handles.");
        }
    }

    /// <summary>The same words as on the command line, as the answer of an address begins them itself.</summary>
    private static IResult Refused(InputProblem problem) => Problem.Field(
        problem.Source, problem.Found.Trim('\''), (problem.Right.StartsWith(Begin, StringComparison.Ordinal) ? problem.Right[Begin.Length..] : problem.Right).TrimEnd('.'));

    private static PlanAsk Read(IQueryCollection query, List<InputProblem> errors)
    {
        double? Number(string name, (double Least, double Most) range) => query[name].ToString() is { Length: > 0 } text ? PlanNumbers.Read(name, text, range, errors) : null;
        ImmutableArray<(string?, double)> One(string name, (double Least, double Most) range) => Number(name, range) is { } value ? [(null, value)] : [];
        string[] drops = [.. query["drops"].ToString().Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)];
        if (drops.Length > MostDrops) errors.Add(new("drops", "", $"{drops.Length}", $"Right would be at most {MostDrops}."));
        return new PlanAsk
        {
            Of = query["of"].ToString() is { Length: > 0 } id ? id : null,
            Payloads = One("payload_kg", (0, PlanNumbers.MostPayload)),
            Centres = One("centre_m", (-PlanNumbers.Farthest, PlanNumbers.Farthest)),
            FrontOverhang = Number("front_overhang_m", (0, PlanNumbers.MostOverhang)),
            Width = Number("width_m", (PlanNumbers.LeastWidth, PlanNumbers.MostWidth)),
            Drops = [.. drops.Take(MostDrops).Select(d => PlanNumbers.Drop("drops", d, errors)).OfType<Drop>()],
        };
    }
}
