using System.Collections.Immutable;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Planning;

/// <summary>
/// What 100 km cost with a load in one position of the lifts: rolling, hub drag and tread, on a level and straight road at the assumed speed. Spreads hold
/// those of the assumptions and those of the load; of a difference, what is wrong in both alike has fallen out.
/// </summary>
/// <param name="Configuration">How the axles stand.</param>
/// <param name="Money">Fuel and tyres, in the currency of the assumptions.</param>
/// <param name="Litres">Fuel, l.</param>
/// <param name="More">What it costs more than the present position; <c>null</c> for that one itself, and where the load cannot stand in it.</param>
/// <param name="MoreWithoutHubs">The same with hubs and brakes that drag nothing: never show a saving without it.</param>
public sealed record DrivenCost(Configuration Configuration, Estimated Money, Estimated Litres, Estimated? More, Estimated? MoreWithoutHubs)
{
    /// <summary>Of every configuration of a plan, in its order.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="setup">The vehicles.</param>
    /// <param name="load">The load of the plan, and what is known of the errors.</param>
    /// <param name="present">How the axles stand.</param>
    /// <param name="assumptions">What to reckon with.</param>
    public static ImmutableArray<DrivenCost> Of(LoadPlan plan, LaneSetup setup, (PayloadEstimate Payload, KnownErrors Known) load, in Configuration present, Assumptions assumptions)
    {
        var reckoning = new CostReckoning(setup, load, assumptions);
        var raised = present.Raised;
        var now = plan.Configurations.FirstOrDefault(c => c.Configuration.Raised == raised) is { } stands ? reckoning.Roll(stands.Configuration) : null;
        return [.. plan.Configurations.Select(c => reckoning.Of(c.Configuration, c.Configuration.Raised == raised ? null : now))];
    }
}

/// <summary>Reckons cost of one load under one set of assumptions.</summary>
internal sealed class CostReckoning(LaneSetup setup, (PayloadEstimate Payload, KnownErrors Known) load, Assumptions assumptions)
{
    private const double Metres = 100_000;

    // Small beside any load, large beside rounding.
    private const double Step = 10;

    private readonly Driving _driving = new(assumptions.Rules.RoadSpeed, Bends.Straight);
    private readonly WorkPrice _money = WorkPrice.By(assumptions), _moneyWithoutHubs = WorkPrice.By(assumptions.WithoutHubs), _litres = WorkPrice.OfFuel(assumptions);

    public DrivenCost Of(in Configuration configuration, RolledLoad? present)
    {
        var rolled = Roll(configuration);
        var valued = Valuation.Of(rolled.Work, assumptions, rolled.TyreJoules);
        var (money, litres) = (With(valued.All.Money, rolled.Form(_money)), With(valued.All.Litres, rolled.Form(_litres)));
        if (present is null) return new(configuration, money, litres, null, null);
        var more = Valuation.Of(rolled.Work - present.Work, assumptions, [.. rolled.TyreJoules.Zip(present.TyreJoules, (a, b) => a - b)]);
        return new(configuration, money, litres,
            With(more.All.Money, rolled.Form(_money).Less(present.Form(_money))), With(more.WithoutHubs.Money, rolled.Form(_moneyWithoutHubs).Less(present.Form(_moneyWithoutHubs))));
    }

    /// <summary>Rolls the load over 100 km; the plan has seen that it can stand so.</summary>
    public RolledLoad Roll(in Configuration configuration)
    {
        var map = setup.Table.At(configuration, load.Payload.State)!.Map;
        var axles = setup.Combination.Axles.Length;
        var loads = new double[axles];
        for (var a = 0; a < axles; a++) loads[a] = map.Configuration[a] == AxleState.Raised ? 0 : Math.Max(0, map.Load(a, load.Payload.State, load.Known));
        var (work, joules) = Work(map, loads);
        var slopes = new RoadWork[axles];
        for (var a = 0; a < axles; a++)
        {
            if (map.Configuration[a] == AxleState.Raised) continue;
            loads[a] += Step;
            slopes[a] = Work(map, loads).Work - work;
            loads[a] -= Step;
        }

        return new(map, work, joules, slopes, Step);
    }

    private (RoadWork Work, double[] TyreJoules) Work(LoadMap map, double[] loads)
    {
        Span<AxleWork> works = stackalloc AxleWork[loads.Length];
        StretchWork.PerMetre(new RollingUnit(setup.Combination, map.Configuration, assumptions.Rules), loads, _driving, works);
        var joules = new double[loads.Length];
        for (var a = 0; a < joules.Length; a++) joules[a] = works[a].TyreNewtons * Metres;
        return (StretchWork.Sum(works, Metres), joules);
    }

    private Estimated With(Estimated assumed, LinearForm form) =>
        new(assumed.Mean, Math.Sqrt(assumed.Sd * assumed.Sd + Math.Pow(setup.Estimator.Evaluate(load.Payload, load.Known, form).Sd, 2)));
}

/// <summary>A load rolled over a distance, with what a little more on each axle adds to it.</summary>
internal sealed record RolledLoad(LoadMap Map, RoadWork Work, double[] TyreJoules, RoadWork[] Slopes, double Step)
{
    /// <summary>Its cost as a form of the loads, to first order: for its spread, not for its mean.</summary>
    public LinearForm Form(WorkPrice price) => new(Map, [.. Slopes.Select(s => price.Of(s) / Step)]);
}
