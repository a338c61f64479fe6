using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Grip;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Turning;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Service.Serving;
using static System.FormattableString;

namespace AxleTelemetry.Service.Planning;

/// <summary>A plan in sentences: the same in a terminal, in a document and beside a picture.</summary>
internal sealed class PlanWords(PlanSheet sheet)
{
    private readonly PlanNames _names = new(sheet.Order.Combination);
    private readonly Sentences _sentences = new(sheet.Order.Combination);

    private PlanOrder Order => sheet.Order;

    public PlanNames Names => _names;

    public static ImmutableArray<string> Cautions => Serving.Cautions.Loads;

    /// <summary>Vehicles, what is varied, limits.</summary>
    public IEnumerable<string> Head()
    {
        foreach (var vehicle in Order.Combination.Vehicles) yield return vehicle.Name.Length == 0 ? vehicle.Id : $"{vehicle.Id}  {vehicle.Name}";
        foreach (var other in Order.Combination.Bodies.Where(b => b.StateIndex >= 0 && b != Order.Body))
            yield return $"Payload of {other.Vehicle.Id}: {Load(new(Order.Payload.State[other.StateIndex], Order.Payload.State[other.StateIndex + 1]))}, held fixed.";
        yield return $"Payload of {Order.Body.Vehicle.Id}: {Load(sheet.Start.Aboard)}{Source()}.";
        yield return Order.Limits;
    }

    /// <summary><c>11.0 t, its centre at 4.20 m</c>; what would round to nothing is none.</summary>
    public static string Load(Aboard aboard) => aboard is { Centre: { } centre, Kilograms: >= 50 } ? Invariant($"{Amount.Tonnes(aboard.Kilograms)}, its centre at {centre:0.00} m") : "none";

    private string Source() => Order.Source switch
    {
        PlanSource.Empty => " stated",
        PlanSource.Stated => ", as stated",
        PlanSource.Items => ", all that is dropped",
        PlanSource.Live live => $", inferred: {live.Worth}",
        _ => throw new InvalidOperationException("A source that nobody handles."),
    };

    /// <summary>What a stage comes to in one position of the lifts.</summary>
    public string Verdict(PlanStage stage, Configuration lifts)
    {
        if (stage.In(lifts) is not { } plan) return "cannot stand so with this load";
        if (!plan.IsPermitted) return $"not permitted: {Passed(plan.Tightest)}";
        var sure = plan.IsSure ? "" : ", but not surely";
        var house = plan.HouseRulesMissed.Any() ? $"; house rule missed: {string.Join(", ", plan.HouseRulesMissed.Select(Passed))}" : "";
        var down = plan.SetDown.IsEmpty ? "" : $"; the automatic control would set {_names.Names.Axles(plan.SetDown)} down";
        return $"permitted{sure}, closest {_names.Of(new PlanLimit.Of(plan.Tightest.Margin))} with {Amount.Tonnes(-plan.Tightest.Excess.Mean)} to spare{house}{down}";
    }

    /// <summary>A limit that is passed.</summary>
    public string Passed(Verdict verdict) => $"{_names.Of(new PlanLimit.Of(verdict.Margin))} by {Amount.Excess(verdict.Excess.Mean)}";

    /// <summary>Which position of the lifts is right at a stage, and why.</summary>
    public string Right(PlanStage stage)
    {
        if (stage.Plan.Right is { } right)
        {
            var others = stage.Plan.Configurations.Where(c => c != right && c.IsPermitted && c.SetDown.IsEmpty).ToArray();
            var saved = others.Length == 0 ? "the only one permitted that stays so"
                : Invariant($"permitted and cheapest to roll, {RollingResistance.LitresPer100Km(others.Min(o => o.Cost.Newtons) - right.Cost.Newtons):0.00} l/100 km under the next");
            return $"{_names.Lifts(right.Configuration)}: {saved}";
        }

        if (stage.Plan.Configurations.FirstOrDefault(c => c.IsPermitted) is { } undone)
            return $"{_names.Lifts(undone.Configuration)} is permitted, but the automatic control would set {_names.Names.Axles(undone.SetDown)} down";
        return stage.Plan.Configurations.IsEmpty ? "the vehicle cannot stand with this load" : "none is permitted";
    }

    /// <summary>What to do where no position of the lifts is permitted.</summary>
    public ImmutableArray<string> Remedies(PlanStage stage) => [.. stage.Plan.Remedies.Select(r => AxleTelemetry.Domain.Wording.Names.Begin(_sentences.Of(r)))];

    /// <summary>A stage by its drop: <c>After drop 2 (4.0 t at 4.4 m)</c>.</summary>
    public string Title(PlanStage stage) => stage.Number == 0 ? "Setting off"
        : Invariant($"After drop {stage.Number} ({Amount.Tonnes(Order.Drops[stage.Number - 1].Kilograms)} at {Order.Drops[stage.Number - 1].Metres:0.0#} m)");

    /// <summary>For each position of the lifts the first stage that is not permitted; empty where nothing is dropped.</summary>
    public IEnumerable<string> FirstFailures()
    {
        if (sheet.Stages.Length == 1) yield break;
        foreach (var lifts in sheet.Lifts)
        {
            var failing = sheet.Stages.FirstOrDefault(s => s.In(lifts.Configuration) is not { IsPermitted: true });
            yield return $"{AxleTelemetry.Domain.Wording.Names.Begin(_names.Lifts(lifts.Configuration))}: " + (failing is null
                ? "permitted at every stage" : $"first fails {(failing.Number == 0 ? "setting off" : Invariant($"after drop {failing.Number}"))}, {Verdict(failing, lifts.Configuration)}") + ".";
        }
    }

    /// <summary>Turning within the ring of the Directive.</summary>
    public string Turning(PlannedLifts lifts) => lifts.Turn switch
    {
        Turn.Round { Passes: true } round => $"{Swept(round)}, {Invariant($"{round.Spare:0.00} m to spare to the {TurningRing.Directive.Inner:0.00} m circle")}; {Slipping(round)}",
        Turn.Round round => $"{Swept(round)} and comes {Invariant($"{-round.Spare:0.00} m inside the {TurningRing.Directive.Inner:0.00} m circle")}; {Slipping(round)}{Deemed(lifts)}",
        Turn.TooTight tight => Invariant($"{Order.Combination.Vehicles[tight.Body].Id} cannot follow at {TurningRing.Directive.Outer:0.00} m outer radius"),
        Turn.NoFixedAxle free => $"not told: every axle of {Order.Combination.Vehicles[free.Body].Id} steers",
        _ => throw new InvalidOperationException("A turn that nobody handles."),
    };

    private static string Swept(Turn.Round round) => Invariant($"sweeps {round.SweptWidth:0.00} m at {TurningRing.Directive.Outer:0.00} m outer radius");

    private static string Slipping(Turn.Round round) => Invariant($"a fixed axle slips up to {Degrees(round.MostSlip):0.0} deg");

    /// <summary>Steady turning is harder than what type approval asks of a semi-trailer: where it fails the one and passes the other, both are told.</summary>
    private string Deemed(PlannedLifts lifts)
    {
        var most = ReferenceWheelbase.Most(TurningRing.Directive, Order.Turning.Width);
        var near = Order.Combination.Bodies.Where(b => b.Vehicle.Kind == VehicleKind.SemiTrailer && ReferenceWheelbase.Of(b, lifts.Configuration) <= most).ToArray();
        return near.Length == 0 ? "" : Invariant($"; type approval deems {near[0].Vehicle.Id} to pass, as its axles' middle is at most {most:0.00} m behind the kingpin (formula from memory)");
    }

    /// <summary>Grades that can be moved off on.</summary>
    public static string Moving(ConfigurationPlan plan) => string.Join(", ", RoadSurface.Usual.Select(s => Invariant($"{s.Name} {Grade(plan.MovingOff.Steepest(s.Friction))}")))
        + Invariant($" (drive {Amount.Tonnes(plan.MovingOff.Drive)}, steer {Amount.Tonnes(plan.MovingOff.Steer)})");

    /// <summary>What raising or relieving does to the driving and the steer axles, against all axles down.</summary>
    public IEnumerable<string> Shifted()
    {
        if (sheet.Start.In(default) is not { } down) yield break;
        foreach (var plan in sheet.Start.Plan.Configurations.Concat(sheet.Relieved).Where(p => p != down))
        {
            var (drive, steer) = (plan.MovingOff.Drive - down.MovingOff.Drive, plan.MovingOff.Steer - down.MovingOff.Steer);
            if (Math.Max(Math.Abs(drive), Math.Abs(steer)) < 50) continue;
            yield return $"{AxleTelemetry.Domain.Wording.Names.Begin(_names.Lifts(plan.Configuration))}: {Signed(drive, "the driving axle")} and {Signed(steer, "the steer axle")}, against all axles down.";
        }
    }

    /// <summary>What the moving-off aid allows, where a lift's maker states one.</summary>
    public IEnumerable<string> Aids()
    {
        foreach (var part in Order.Combination.Axles.Where(a => a.Body == 0))
        {
            if (sheet.Start.In(default) is not { } down || Driving(down) is not { } limit || MovingOff.Aid(part.Axle, limit) is not { } most) continue;
            var loads = sheet.Start.Plan.Configurations.Concat(sheet.Relieved).Where(p => p.Configuration[part.Index] != AxleState.Loaded).Select(p => p.MovingOff.Drive).ToArray();
            var held = loads.Length == 0 ? "" : loads.Max() <= most.Kilograms ? "; this load keeps it" : "; this load does not keep it in every way of relieving";
            yield return $"Moving-off aid of {_names.Names.Axle(part.Index)}: below 30 km/h the driving axle may carry up to {Amount.Limit(most.Kilograms)}, as the maker of the lift states{held}.";
        }
    }

    /// <summary>What was assumed, each with its status.</summary>
    public IEnumerable<string> Assumptions()
    {
        var usual = TurningAssumptions.Usual;
        string Status(double value, double common, string status) => value.Equals(common) ? status : "as stated";
        yield return Invariant($"Turning: slow and steady, front corners {Order.Turning.FrontOverhang:0.00} m ahead of the first axle ({Status(Order.Turning.FrontOverhang, usual.FrontOverhang, "common practice")}), every vehicle {Order.Turning.Width:0.00} m wide ({Status(Order.Turning.Width, usual.Width, "greatest of Directive 96/53/EC")}), tyres equally stiff in front and behind (common practice). Ring: Directive 96/53/EC, Annex I, 1.5.");
        yield return $"Moving off: friction {string.Join(", ", RoadSurface.Usual.Select(s => Invariant($"{s.Name} {s.Friction:0.00}")))} (common practice, no source), tyres' stated rolling resistance; no more than the driven tyres' grip is looked at.";
    }

    private static string Grade(GradeReach reach) => reach.Grade <= 0 ? "not even level"
        : Invariant($"{100 * reach.Grade:0.0} %") + (reach.End == GradeEnd.FrontLifts ? ", then the front lifts" : "");

    private static string Signed(double kilograms, string on) => kilograms >= 0 ? $"{Amount.Tonnes(kilograms)} onto {on}" : $"{Amount.Tonnes(-kilograms)} off {on}";

    private static double Degrees(double radians) => radians * 180 / Math.PI;

    private Mass? Driving(ConfigurationPlan down) => down.Verdicts
        .Where(v => v.Margin.Key is { Kind: MarginKind.Axle } key && Order.Combination.Axles[key.Element] is { Body: 0, Axle.Role: AxleRole.Drive })
        .Select(v => (Mass?)Mass.FromKilograms(v.Margin.Limit)).FirstOrDefault();
}
