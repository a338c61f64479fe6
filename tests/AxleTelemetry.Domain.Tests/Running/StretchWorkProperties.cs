using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Tests.Statics;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Tests.Running;

/// <summary>What must hold for any combination, configuration and load.</summary>
public sealed class StretchWorkProperties
{
    private const int Scenes = 500;

    [Fact]
    public void With_an_exponent_of_one_rolling_is_gross_times_the_coefficient_whatever_is_raised() => ForEach((scene, loads) =>
    {
        var work = Sum(scene, loads, new(20, Bends.Straight), RunningRules.Default with { Beta = 1 });
        double expected = 0;
        foreach (var part in scene.Combination.Axles) expected += part.Axle.Tyres.RollingResistance / 1000 * loads[part.Index] * 9.80665;
        Near(expected * 1_000, work.TyreJoules, scene);
    });

    /// <summary>By the statics themselves: what one axle gives off others take, so with tyres alike only the exponent, hubs and scrub can save.</summary>
    [Fact]
    public void With_an_exponent_of_one_and_tyres_alike_lifting_saves_nothing()
    {
        var (plain, lifts) = (RunningRules.Default with { Beta = 1, HubDragNewtons = 0 }, 0);
        for (ulong seed = 1; seed <= Scenes; seed++)
        {
            var scene = new Scene(seed, (combination, _) => Alike(combination));
            foreach (var lift in scene.Combination.Axles.Where(a => a.Axle.Lift is not null))
                if (LiftingSaves(scene, lift.Index, plain) is { } saved)
                {
                    lifts++;
                    Assert.True(Math.Abs(saved.Of) <= 1e-9 * saved.Whole, $"seed {seed}: {saved}");
                    Assert.True(LiftingSaves(scene, lift.Index, RunningRules.Default) is { Of: var some } && Math.Abs(some) > 1e-6 * saved.Whole, $"seed {seed}: the exponent saves nothing");
                }
        }

        Assert.True(lifts > Scenes / 10, $"{lifts} lifts");
    }

    private static (double Of, double Whole)? LiftingSaves(Scene scene, int axle, RunningRules rules)
    {
        var (lowered, raised) = (new Configuration(), new Configuration(Raised: 1u << axle));
        if (Loads(scene, lowered) is not { } before || Loads(scene, raised) is not { } after) return null;
        var axles = new AxleWork[before.Length];
        StretchWork.PerMetre(new(scene.Combination, lowered, rules), before, new(20, Bends.Straight), axles);
        var whole = StretchWork.Sum(axles, 1_000);
        StretchWork.PerMetre(new(scene.Combination, raised, rules), after, new(20, Bends.Straight), axles);
        return ((whole - StretchWork.Sum(axles, 1_000)).TyreJoules, whole.TyreJoules);
    }

    /// <summary><c>null</c> where the combination cannot stand like this.</summary>
    private static double[]? Loads(Scene scene, Configuration configuration)
    {
        if (scene.Model.Map(configuration) is not { } map) return null;
        double[] loads = [.. scene.Combination.Axles.Select(a => map.Load(a.Index, scene.State))];
        return loads.Any(l => l < 0) ? null : loads;
    }

    private static Combination Alike(Combination combination) => Drawn.Couple([.. combination.Vehicles.Select(v =>
        v with { Axles = [.. v.Axles.Select(a => a with { Tyres = a.Tyres with { RollingResistance = 5 } })] })]);

    [Fact]
    public void A_straight_road_scrubs_nothing() => ForEach((scene, loads) =>
        Assert.True(Sum(scene, loads, new(20, Bends.Straight), RunningRules.Default).ScrubJoules == 0, $"seed {scene.Seed}"));

    /// <summary>Bends and their noise average out: twice half is the whole, and a negative square takes off what a positive one put on.</summary>
    [Fact]
    public void Scrub_of_stretches_adds_up_also_below_zero() => ForEach((scene, loads) =>
    {
        var some = Sum(scene, loads, new(20, Bends.At(2e-4, 20)), RunningRules.Default).ScrubJoules;
        var less = Sum(scene, loads, new(20, Bends.At(-1e-4, 20)), RunningRules.Default).ScrubJoules;
        var mean = Sum(scene, loads, new(20, Bends.At(0.5e-4, 20)), RunningRules.Default).ScrubJoules;
        Near(2 * mean, some + less, scene);
        Assert.True(some >= 0, $"seed {scene.Seed}");
    });

    [Fact]
    public void The_sum_over_a_distance_is_the_sum_of_its_parts() => ForEach((scene, loads) =>
    {
        var axles = Axles(scene, loads, new(20, Bends.At(1e-4, 20)), RunningRules.Default);
        var whole = StretchWork.Sum(axles, 1_000);
        var parts = StretchWork.Sum(axles, 400) + StretchWork.Sum(axles, 600);
        Near(whole.Metres, parts.Metres, scene);
        Near(whole.TyreJoules, parts.TyreJoules, scene);
        Near(whole.TurningMetres, parts.TurningMetres, scene);
        Near(whole.ScrubJoules, parts.ScrubJoules, scene);
        Near(whole.Tread, parts.Tread, scene);
    });

    /// <summary>About the centre that loads weigh, slips of a body's unsteered axles balance: scrub turns, it does not push.</summary>
    [Fact]
    public void Slips_of_a_body_balance() => ForEach((scene, loads) =>
    {
        var unit = new RollingUnit(scene.Combination, scene.Configuration, RunningRules.Default);
        foreach (var body in scene.Combination.Bodies)
        {
            double sum = 0;
            for (var i = body.FirstAxle; i < body.FirstAxle + body.Vehicle.Axles.Length; i++)
                sum += loads[i] * Scrub.Offset(unit, scene.Combination.Axles[i], loads, 20);
            Assert.True(Math.Abs(sum) < 1e-6, $"seed {scene.Seed}: {sum}");
        }
    });

    private static void Near(double expected, double found, Scene scene) =>
        Assert.True(Math.Abs(expected - found) <= 1e-9 * Math.Max(1, Math.Abs(expected)), $"seed {scene.Seed}: {expected} and {found}");

    private static RoadWork Sum(Scene scene, double[] loads, Driving driving, RunningRules rules) =>
        StretchWork.Sum(Axles(scene, loads, driving, rules), 1_000);

    private static AxleWork[] Axles(Scene scene, double[] loads, Driving driving, RunningRules rules)
    {
        var axles = new AxleWork[scene.Combination.Axles.Length];
        StretchWork.PerMetre(new(scene.Combination, scene.Configuration, rules), loads, driving, axles);
        return axles;
    }

    private static void ForEach(Action<Scene, double[]> check)
    {
        for (ulong seed = 1; seed <= Scenes; seed++)
        {
            var scene = new Scene(seed);
            double[] loads = [.. scene.Combination.Axles.Select(a => scene.Configuration[a.Index] == AxleState.Raised ? 0 : 1_000 + 977.0 * ((seed + (ulong)a.Index * 7) % 11))];
            check(scene, loads);
        }
    }
}
