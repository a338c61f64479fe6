using System.Collections.Immutable;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Domain.Tests.Estimation;
using AxleTelemetry.Domain.Tests.Limits;

namespace AxleTelemetry.Domain.Tests.Planning;

public sealed class DropTests
{
    private static readonly ImmutableArray<Drop> Items = [new(4000, 7.0), new(4000, 4.4), new(3000, 1.6)];

    [Fact]
    public void Each_drop_takes_its_mass_and_moment_and_the_last_leaves_nothing()
    {
        var start = Aboard.Of(Items);
        var stages = start.After(Items);
        Assert.Equal(11_000, start.Kilograms);
        Assert.Equal((4000 * 7.0 + 4000 * 4.4 + 3000 * 1.6) / 11_000, start.Centre!.Value, 9);
        Assert.Equal((7000.0, (4000 * 4.4 + 3000 * 1.6) / 7000), (stages[0].Kilograms, stages[0].Centre!.Value));
        Assert.Equal((3000.0, 1.6), (stages[1].Kilograms, Math.Round(stages[1].Centre!.Value, 9)));
        Assert.Equal(default, stages[2]);
        Assert.Null(stages[2].Centre);
    }

    [Fact]
    public void What_is_left_must_fit_in_the_load_space()
    {
        Assert.True(Aboard.At(5000, 4).CouldBe(1, 8));
        Assert.False(Aboard.At(5000, 8.1).CouldBe(1, 8));
        Assert.False(Aboard.At(5000, 4).After([new(6000, 4)])[0].CouldBe(1, 8));
        // Ten tonnes at 4 m less eight at 7 m would leave two tonnes ahead of the headboard.
        Assert.False(Aboard.At(10_000, 4).After([new(8000, 7)])[0].CouldBe(1, 8));
    }

    /// <summary>Unloading from the rear leaves the rest on the kingpin: permitted as loaded, and over on the driving axle after the drop in every position of the lifts.</summary>
    [Fact]
    public void The_driving_axle_fails_after_a_drop_not_before()
    {
        var setup = Setup("tractor-4x2.json+semi-tridem-lift-first.json");
        var load = Aboard.Of([new(16_000, 3.0), new(8000, 11.0)]);
        Assert.Contains(Plan(setup, load).Configurations, c => c.IsPermitted);
        var after = Plan(setup, load.After([new(8000, 11.0)])[0]);
        Assert.DoesNotContain(after.Configurations, c => c.IsPermitted);
        Assert.All(after.Configurations, c => Assert.Contains(c.Verdicts, v => v.Margin.Key == new MarginKey(MarginKind.Axle, 0, 1) && v.Excess.Mean > 0));
        Assert.NotEmpty(after.Remedies);
    }

    [Fact]
    public void The_right_configuration_is_the_cheapest_that_is_permitted_and_stays()
    {
        var setup = Setup("rigid-6x2-tag.json");
        for (var tonnes = 0; tonnes <= 18; tonnes++)
        {
            var plan = Plan(setup, Aboard.At(1000 * tonnes, 4.4));
            ImmutableArray<ConfigurationPlan> fitting = [.. plan.Configurations.Where(c => c.IsPermitted && c.SetDown.IsEmpty)];
            Assert.Equal(fitting.IsEmpty ? null : fitting.Min(c => c.Cost.Newtons), plan.Right?.Cost.Newtons);
            Assert.Equal(plan.Configurations.All(c => !c.IsPermitted), !plan.Remedies.IsEmpty);
        }

        Assert.NotEqual(0u, Plan(setup, Aboard.At(4000, 4.4)).Right!.Configuration.Raised);
        Assert.Equal(0u, Plan(setup, Aboard.At(12_000, 4.4)).Right!.Configuration.Raised);
        Assert.Null(Plan(setup, Aboard.At(18_000, 4.4)).Right);
    }

    private static LaneSetup Setup(string files)
    {
        var combination = Fleet.Couple([.. files.Split('+').Select(Fleet.Example)]);
        return LaneSetup.FromHandbook(combination, c => LimitFleet.Margins(combination, c, LimitFleet.National));
    }

    private static LoadPlan Plan(LaneSetup setup, Aboard aboard)
    {
        var payload = setup.Estimator.NewEstimate();
        (payload.State[0], payload.State[1]) = (aboard.Kilograms, aboard.Moment);
        return LoadPlan.Of(setup, payload, setup.Estimator.NewKnownErrors(), default);
    }
}
