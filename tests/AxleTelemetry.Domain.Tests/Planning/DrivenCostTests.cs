using System.Collections.Immutable;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Tests.Estimation;
using AxleTelemetry.Domain.Tests.Limits;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Running;

namespace AxleTelemetry.Domain.Tests.Planning;

public sealed class DrivenCostTests
{
    private const double Tonnes8 = 8_000, Centre = 4.4;

    private static readonly Assumptions Shipped = AssumptionsFile.Shipped;

    /// <summary>
    /// Reckoned anew from what is published: resistance of a tyre as Regulation (EU) 2017/2400 states it, with the exponent 0.9 and the reference load of 85 %;
    /// 42.7 MJ/kg and 0.832 kg/l of EN 16258; 40 N a turning axle and an efficiency of 0.40 (common practice).
    /// </summary>
    [Fact]
    public void Fuel_is_that_of_the_published_formula()
    {
        var setup = Setup("rigid-6x2-tag.json");
        foreach (var (cost, plan) in Of(setup, Load(setup), default).Costs.Zip(Of(setup, Load(setup), default).Plan.Configurations))
        {
            var map = setup.Table.At(plan.Configuration, Load(setup).State)!.Map;
            double newtons = 0;
            foreach (var part in setup.Combination.Axles.Where(a => plan.Configuration[a.Index] != AxleState.Raised))
            {
                var (kilograms, tyres) = (map.Load(part.Index, Load(setup).State), part.Axle.Tyres);
                newtons += tyres.RollingResistance / 1000 * Math.Pow(kilograms / (0.85 * tyres.Capacity.Kilograms), -0.1) * kilograms * 9.80665 + 40;
            }

            Assert.Equal(newtons * 100_000 / (0.40 * 42.7e6) / 0.832, cost.Litres.Mean, 0.01);
        }
    }

    [Fact]
    public void What_one_costs_more_is_the_difference_and_surer_than_both()
    {
        var setup = Setup("rigid-6x2-tag.json");
        var costs = Of(setup, Load(setup, 400), default).Costs;
        Assert.Equal(2, costs.Length);
        Assert.Null(costs[0].More);
        var (down, raised) = (costs[0], costs[1]);
        Assert.Equal(raised.Money.Mean - down.Money.Mean, raised.More!.Value.Mean, 9);
        Assert.InRange(raised.More.Value.Sd, 1e-6, Math.Min(down.Money.Sd, raised.Money.Sd));
        // One axle less that turns: without the drag of its hubs less is saved.
        Assert.True(raised.More.Value.Mean < raised.MoreWithoutHubs!.Value.Mean);
        // The other way round it is the same with its sign turned.
        var back = Of(setup, Load(setup, 400), new Configuration(Raised: 0b100)).Costs;
        Assert.Equal(-raised.More.Value.Mean, back[0].More!.Value.Mean, 9);
        Assert.Null(back[1].More);
    }

    /// <summary>What the load is off by moves the cost by as much as reckoning with another load does.</summary>
    [Fact]
    public void The_spread_of_the_load_is_in_that_of_the_cost()
    {
        const double Off = 500;
        var setup = Setup("rigid-6x2-tag.json");
        double[] variances = [.. new[] { 0, Off }.Select(sd => Math.Pow(Of(setup, Load(setup, sd), default).Costs[0].Money.Sd, 2))];
        var (less, more) = (Of(setup, Load(setup, 0, -Off), default).Costs[0].Money.Mean, Of(setup, Load(setup, 0, Off), default).Costs[0].Money.Mean);
        Assert.Equal((more - less) / 2, Math.Sqrt(variances[1] - variances[0]), 0.02 * (more - less));
    }

    private static LaneSetup Setup(string file)
    {
        var combination = Fleet.Couple(Fleet.Example(file));
        return LaneSetup.FromHandbook(combination, c => LimitFleet.Margins(combination, c, LimitFleet.National));
    }

    // Its mass off by a standard deviation, its place known.
    private static PayloadEstimate Load(LaneSetup setup, double sd = 0, double more = 0)
    {
        var payload = setup.Estimator.NewEstimate();
        (payload.State[0], payload.State[1]) = (Tonnes8 + more, (Tonnes8 + more) * Centre);
        payload.Covariance.Clear();
        payload.Sensitivity.Clear();
        for (var i = 0; i < 4; i++) payload.Covariance[i / 2 * payload.States + i % 2] = sd * sd * (i switch { 0 => 1, 3 => Centre * Centre, _ => Centre });
        return payload;
    }

    private static (LoadPlan Plan, ImmutableArray<DrivenCost> Costs) Of(LaneSetup setup, PayloadEstimate payload, Configuration present)
    {
        var known = setup.Estimator.NewKnownErrors();
        var plan = LoadPlan.Of(setup, payload, known, present);
        return (plan, DrivenCost.Of(plan, setup, (payload, known), present, Shipped));
    }
}
