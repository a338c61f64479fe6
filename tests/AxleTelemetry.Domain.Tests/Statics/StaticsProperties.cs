using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Domain.Tests.Statics;

/// <summary>What must hold in any equilibrium, whoever solves it.</summary>
public sealed class StaticsProperties
{
    private const int Scenes = 2000;
    private const double Tolerance = 1e-9;

    [Fact]
    public void Axles_of_a_combination_sum_to_its_gross_in_every_configuration()
    {
        ForEach((scene, map, seed) =>
        {
            var sum = Enumerable.Range(0, scene.Combination.Axles.Length).Sum(row => map.Load(row, scene.State));
            Same(scene.Gross, sum, scene, seed);
        });
    }

    [Fact]
    public void Axles_of_a_combination_sum_to_its_gross_in_motion_too()
    {
        ForEach((scene, map, seed) =>
        {
            var coefficients = new double[map.Width];
            double sum = 0;
            for (var row = 0; row < scene.Combination.Axles.Length; row++)
            {
                map.Measured(row, scene.DomainMotion, coefficients);
                sum += LoadMap.Value(coefficients, scene.State);
            }

            Same(scene.Gross, sum, scene, seed);
        });
    }

    [Fact]
    public void Axles_and_couplings_of_a_body_sum_to_its_mass()
    {
        ForEach((scene, map, seed) =>
        {
            foreach (var body in scene.Combination.Bodies)
            {
                var sum = Enumerable.Range(body.FirstAxle, body.Vehicle.Axles.Length).Sum(row => map.Load(row, scene.State));
                if (body.Index > 0) sum += map.Load(scene.Combination.CouplingRow(body.Index), scene.State);
                if (body.Index < scene.Combination.Couplings) sum -= map.Load(scene.Combination.CouplingRow(body.Index + 1), scene.State);
                Same(scene.BodyMass(body), sum, scene, seed);
            }
        });
    }

    [Fact]
    public void Raising_an_axle_never_changes_the_gross()
    {
        var raised = 0;
        ForEach((scene, map, seed) =>
        {
            foreach (var part in scene.Combination.Axles.Where(a => a.Axle.Lift is not null))
            {
                if (scene.Model.Map(scene.Configuration.With(part.Index, AxleState.Raised)) is not { } up) continue;
                raised++;
                Assert.Equal(0, up.Load(part.Index, scene.State), 9);
                Same(scene.Gross, Enumerable.Range(0, scene.Combination.Axles.Length).Sum(row => up.Load(row, scene.State)), scene, seed);
            }
        });
        Assert.True(raised > Scenes / 4, $"only {raised} raised");
    }

    [Fact]
    public void A_mix_of_payload_states_gives_the_mix_of_their_loads()
    {
        ForEach((scene, map, seed) =>
        {
            var random = new SeededRandom(seed ^ 0xA55A);
            var other = scene.State.Select(value => value * random.Between(0, 1.2)).ToArray();
            var part = random.Unit();
            var mix = scene.State.Zip(other, (a, b) => part * a + (1 - part) * b).ToArray();
            var first = Scene.Dense(scene.Truth, scene.Configuration, scene.State, scene.Motion)!;
            var second = Scene.Dense(scene.Truth, scene.Configuration, other, scene.Motion)!;
            var mixed = Scene.Dense(scene.Truth, scene.Configuration, mix, scene.Motion)!;
            for (var row = 0; row < map.Rows; row++)
            {
                Same(part * first.Row(row) + (1 - part) * second.Row(row), mixed.Row(row), scene, seed);
                Same(part * map.Load(row, scene.State) + (1 - part) * map.Load(row, other), map.Load(row, mix), scene, seed);
            }
        });
    }

    [Fact]
    public void A_regulated_force_above_what_the_body_gives_is_not_possible()
    {
        int possible = 0, impossible = 0;
        ForEach((scene, map, seed) =>
        {
            var settled = scene.Model.MapAt(scene.Configuration, scene.State);
            if (settled is null)
            {
                impossible++;
                return;
            }

            possible++;
            foreach (var part in scene.Combination.Axles.Where(a => settled.Configuration[a.Index] == AxleState.Loaded))
                Assert.True(settled.Load(part.Index, scene.State) >= part.Axle.Unsprung.Kilograms - 1e-6, $"seed {seed}: '{part.Axle.Key}' pulls");
        });
        Assert.True(possible > Scenes / 2 && impossible > 20, $"{possible} possible, {impossible} not");
    }

    private static void ForEach(Action<Scene, LoadMap, ulong> check)
    {
        for (ulong seed = 1; seed <= Scenes; seed++)
        {
            var scene = new Scene(seed);
            if (scene.Model.Map(scene.Configuration) is { } map) check(scene, map, seed);
        }
    }

    private static void Same(double expected, double actual, Scene scene, ulong seed) =>
        Assert.True(Math.Abs(actual - expected) <= Tolerance * scene.Gross, $"seed {seed}: {actual} where {expected} was due.");
}
