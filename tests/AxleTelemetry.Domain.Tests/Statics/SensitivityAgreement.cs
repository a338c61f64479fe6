using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Domain.Tests.Statics;

/// <summary>
/// What the maps say one standard deviation of a considered error does, against disturbing that one number of the true
/// vehicles by plus and minus one standard deviation and solving densely.
/// </summary>
public sealed class SensitivityAgreement
{
    private const double Tolerance = 1e-6;

    [Fact]
    public void Columns_agree_with_disturbing_the_truth()
    {
        var seen = new Dictionary<ConsideredKind, (int Count, double Largest)>();
        for (ulong seed = 1; seed <= 1000; seed++)
        {
            var scene = new Scene(seed);
            if (scene.Model.Map(scene.Forced) is not { } map) continue;
            for (var e = 0; e < map.Errors; e++)
            {
                var error = scene.Model.Budget.Errors[e];
                var plus = Scene.Dense(Disturbed(scene.Truth, error, error.Sd), scene.Forced, scene.State, default);
                var minus = Scene.Dense(Disturbed(scene.Truth, error, -error.Sd), scene.Forced, scene.State, default);
                Assert.NotNull(plus);
                Assert.NotNull(minus);
                for (var row = 0; row < map.Rows; row++)
                {
                    var expected = (plus.Row(row) - minus.Row(row)) / 2;
                    var actual = LoadMap.Value(map.Sensitivity(e, row), scene.State);
                    Assert.True(Math.Abs(actual - expected) <= Tolerance * scene.Gross,
                        $"seed {seed}, {error}, row {row}: {actual} by the map, {expected} by the dense solve.");
                    var (count, largest) = seen.GetValueOrDefault(error.Kind);
                    seen[error.Kind] = (count + 1, Math.Max(largest, Math.Abs(expected)));
                }
            }
        }

        // Every kind that acts on loads at rest was met and moved something.
        foreach (var kind in Enum.GetValues<ConsideredKind>().Where(k => k < ConsideredKind.Drag))
            Assert.True(seen.TryGetValue(kind, out var found) && found.Largest > 1, $"{kind} moved nothing");
        Assert.Equal(0, seen[ConsideredKind.Drag].Largest, 9);
    }

    private static TrueCombination Disturbed(TrueCombination truth, ConsideredError error, double by)
    {
        if (error.Body < 0) return truth with { Vehicles = [.. truth.Vehicles.Select(v => v with { DragFactor = 1 + by })] };
        var axle = error.Element - truth.Described.Bodies[error.Body].FirstAxle;
        return truth.With(error.Body, v => error.Kind switch
        {
            ConsideredKind.Unsprung => v with { Unsprung = v.Unsprung.SetItem(axle, v.Unsprung[axle] + by) },
            ConsideredKind.KerbFront => KerbMoved(v, v.Description.Front, by),
            ConsideredKind.KerbRear => KerbMoved(v, v.Description.Rear, by),
            ConsideredKind.Share => v with { ShareFactors = v.ShareFactors.SetItem(axle, 1 + by) },
            ConsideredKind.Residual => v with { Residuals = v.Residuals.SetItem(axle, v.Residuals[axle] + by) },
            ConsideredKind.Regulated => v with { Forces = v.Forces.SetItem(axle, v.Forces[axle] + by) },
            ConsideredKind.Service => v with { Service = v.Service + by },
            ConsideredKind.CouplingPosition => v with { RearCoupling = v.RearCoupling + by },
            ConsideredKind.Fixture => v with
            {
                FixturesAboard = v.FixturesAboard.SetItem(error.Element,
                    v.FixturesAboard[error.Element] + by / v.Description.Fixtures[error.Element].Mass.Kilograms),
            },
            _ => throw new InvalidOperationException($"{error.Kind} belongs to no vehicle."),
        });
    }

    /// <summary>A support that the scale showed too light: spread evenly over its axles, or on the coupling.</summary>
    private static TrueVehicle KerbMoved(TrueVehicle vehicle, AxleGroup? support, double by)
    {
        if (support is null) return vehicle with { KerbCoupling = vehicle.KerbCoupling + by };
        var loads = vehicle.KerbLoads.ToBuilder();
        foreach (var i in support.Axles) loads[i] += by / support.Axles.Length;
        return vehicle with { KerbLoads = loads.ToImmutable() };
    }
}
