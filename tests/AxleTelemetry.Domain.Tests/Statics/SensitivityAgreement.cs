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
            var slopes = new double[map.Rows][];
            for (var row = 0; row < slopes.Length; row++) map.Slopes(row, scene.State, slopes[row] = new double[map.Errors]);
            for (var e = 0; e < map.Errors; e++)
            {
                var error = scene.Model.Budget.Errors[e];
                var plus = Scene.Dense(Disturbance.Apply(scene.Truth, error, error.Sd), scene.Forced, scene.State, default);
                var minus = Scene.Dense(Disturbance.Apply(scene.Truth, error, -error.Sd), scene.Forced, scene.State, default);
                Assert.NotNull(plus);
                Assert.NotNull(minus);
                for (var row = 0; row < map.Rows; row++)
                {
                    var expected = (plus.Row(row) - minus.Row(row)) / 2;
                    var actual = slopes[row][e];
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
}
