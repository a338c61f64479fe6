using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Inputs;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Planning;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Web.Sight;
using PlanPicture = AxleTelemetry.Web.Sight.PlanPicture;

namespace AxleTelemetry.Service.Sighting;

/// <summary>Plans for their page, by the same desk as the address and the command.</summary>
internal sealed class PlanSight(Desks desks, TimeProvider clock) : IPlanSight
{
    public async Task<PlanAnswer> PlanAsync(PlanQuestion question, CancellationToken cancel)
    {
        var name = question.Vehicle;
        if (desks.Find(name.Fleet) is not { } desk) return Refused($"There is no fleet '{name.Fleet}'.");
        var now = clock.Now();
        return await desk.AskAsync(s => LivePlan.Of(s, name, now), cancel) switch
        {
            LivePlan.Unknown => Refused($"There is no vehicle '{name.Id}' in the fleet '{name.Fleet}'."),
            LivePlan.Trailer { Behind: { } unit } => new PlanAnswer.Refused($"'{name.Id}' is a trailer: it is planned with the unit ahead of it.", [unit.Id]),
            LivePlan.Trailer => Refused($"'{name.Id}' is a trailer and hangs on no unit now. The command 'plan' takes vehicle files in any combination."),
            LivePlan.Ready { Basis: var basis } => await Task.Run(() => Plan(basis, question), cancel),
            _ => throw new InvalidOperationException("An outcome that nobody handles."),
        };
    }

    private static PlanAnswer.Refused Refused(string why) => new(why, []);

    private static PlanAnswer Plan(PlanBasis basis, PlanQuestion question)
    {
        ImmutableArray<string> carrying = [.. basis.Setup.Combination.Bodies.Where(b => b.StateIndex >= 0).Select(b => b.Vehicle.Id)];
        var ask = new PlanAsk
        {
            Of = question.Of ?? (carrying.Length > 1 ? carrying[^1] : null),
            Payloads = question.Kilograms is { } kilograms ? [(null, kilograms)] : [],
            Centres = question is { Kilograms: not null, Metres: { } metres } ? [(null, metres)] : [],
        };
        var errors = new List<InputProblem>();
        return PlanOrdering.Of(basis, (ask, PlanFields.Address), errors) is { } order && errors.Count == 0
            ? new PlanAnswer.Planned(Picture(PlanWriting.Of(PlanDesk.Work(order)), order, carrying))
            : new PlanAnswer.Refused(errors.Count > 0 ? errors[0].Right : "This vehicle carries no payload.", []);
    }

    private static PlanPicture Picture(PlanDocument document, PlanOrder order, ImmutableArray<string> carrying)
    {
        var start = document.Stages[0];
        return new PlanPicture
        {
            Vehicles = document.Vehicles,
            Of = document.Of,
            Carrying = carrying,
            Front = document.FrontM,
            Rear = document.RearM,
            Limits = document.Limits,
            Source = document.SourceWords ?? document.Source,
            Load = new(start.CentreM ?? order.Body.Vehicle.LoadSpace!.Centre.Metres, Math.Max(0, start.PayloadKg)),
            Edge = [.. document.Edge.Select(e => new PlacedLoad(e.CentreM, e.PayloadKg))],
            Positions = [.. document.Configurations.Select((c, i) => Position(c, start.Configurations[i], document.Present))],
            Right = start.Right,
            Remedies = start.Remedies,
            MovingOff = document.MovingOff,
            Assumptions = document.Assumptions,
        };
    }

    private static PlannedPosition Position(PlannedLiftsDocument lifts, StagedLiftsDocument staged, string? present) => new()
    {
        Words = lifts.Words,
        IsPresent = lifts.Words == present,
        IsRight = staged.Right,
        IsPossible = staged.Possible,
        IsPermitted = staged.Permitted,
        IsSure = staged.Sure,
        Verdict = staged.Words,
        Greatest = lifts.Greatest is { } greatest ? new(greatest.CentreM, greatest.PayloadKg) : null,
        Stretches = [.. lifts.Stretches.Select(s => new PlannedStretch(s.FromM, s.ToM) { Most = Placed(s.MostPoints), Least = Placed(s.LeastPoints), Bound = s.Most.Limited, Against = s.Least?.Limited })],
        House = [.. lifts.WithHouseRules.SelectMany(House)],
        Turning = lifts.Turning.Words,
        Grades = [.. staged.MovingOff.Select(g => (g.Surface, g.SteepestPercent))],
        Limits = [.. staged.Limits.Select(Limit)],
    };

    private static IEnumerable<HouseStretch> House(DiagramStretchDocument stretch)
    {
        if (IsHouse(stretch.Most) && !stretch.MostPoints.IsEmpty) yield return new(stretch.FromM, stretch.ToM, Placed(stretch.MostPoints), stretch.Most.Limited);
        if (stretch.Least is { } least && IsHouse(least) && !stretch.LeastPoints.IsEmpty) yield return new(stretch.FromM, stretch.ToM, Placed(stretch.LeastPoints), least.Limited);
    }

    private static bool IsHouse(BoundDocument bound) => bound.Standing == JsonText.Word(MarginStanding.HouseRule);

    private static ImmutableArray<PlacedLoad> Placed(ImmutableArray<PlacedDocument> points) => [.. points.Select(p => new PlacedLoad(p.CentreM, p.PayloadKg))];

    private static PlannedLimit Limit(LimitDocument limit) => new(
        limit.Limited, limit.LimitKg, new Estimated(limit.ExcessKg.Mean, limit.ExcessKg.Sd),
        limit.CannotTell ? Condition.CannotTell : limit.Level switch { "surely" => Condition.Over, "likely" => Condition.LikelyOver, "near" => Condition.Near, _ => Condition.Within },
        limit.Source.Place)
    {
        IsLeast = Enum.GetValues<MarginKind>().Any(k => k.IsLeast() && limit.Kind == JsonText.Word(k)),
    };
}
