using System.Globalization;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Domain.Tests.Statics;

/// <summary>
/// The affine load maps against an independent solve of all forces at once, wherever supports are at least 1 m apart and
/// the condition number (1-norm, kg and m) stays below 1e7. Differences are relative to the gross mass.
/// </summary>
public sealed class DenseSolveAgreement(ITestOutputHelper output)
{
    private const int Scenes = 6000;
    private const double Tolerance = 1e-6;

    [Fact]
    public void Levelled_maps_agree_with_the_dense_solve() =>
        Compare(_ => default, (map, row, scene) => map.Load(row, scene.State));

    [Fact]
    public void Measured_maps_agree_with_the_dense_solve_in_motion() =>
        Compare(scene => scene.Motion, (map, row, scene) =>
        {
            Span<double> coefficients = stackalloc double[map.Width];
            map.Measured(row, scene.DomainMotion, coefficients);
            return LoadMap.Value(coefficients, scene.State);
        });

    [Fact]
    public void Where_valves_hold_axles_the_settled_map_agrees_with_a_search_over_all_sets()
    {
        var worst = new Worst();
        int settled = 0, held = 0, impossible = 0;
        for (ulong seed = 1; seed <= Scenes; seed++)
        {
            var scene = new Scene(seed);
            var expected = DenseStatics.Settle(scene.Truth, scene.Configuration, scene.State, default);
            var map = scene.Model.MapAt(scene.Configuration, scene.State);
            if (expected is not StaticsResult.Stands stands)
            {
                Assert.True(map is null, $"seed {seed}: stands by the map, but {((StaticsResult.Falls)expected).Reason}");
                impossible++;
                continue;
            }

            Assert.True(map is not null, $"seed {seed}: the dense solve stands with ceilings {stands.Loads.Configuration.AtCeiling:x}, the map does not.");
            Assert.True(stands.Loads.Configuration.AtCeiling == map.Configuration.AtCeiling,
                $"seed {seed}: held {map.Configuration.AtCeiling:x}, by search {stands.Loads.Configuration.AtCeiling:x}.");
            if (!scene.WellConditioned(map.Configuration)) continue;
            for (var row = 0; row < map.Rows; row++) worst.See(seed, row, (map.Load(row, scene.State) - stands.Loads.Row(row)) / scene.Gross);
            settled++;
            if (map.Configuration.AtCeiling != 0) held++;
        }

        Assert.True(settled > Scenes / 2 && held > 150 && impossible > 50, $"{settled} settled, {held} held, {impossible} impossible");
        output.WriteLine($"{settled} settled, of them {held} with held axles; {impossible} impossible; {worst}");
        worst.Within(Tolerance);
    }

    /// <summary>
    /// Two simplifications of the maps, held to their size: slope felt while standing is taken as felt while rolling, and
    /// a vehicle's wheels are taken to be those of its first axle.
    /// </summary>
    [Theory]
    [InlineData(false, 1e-4)]
    [InlineData(true, 1e-3)]
    public void What_the_maps_simplify_stays_small(bool tyresDiffer, double bound)
    {
        var worst = new Worst();
        for (ulong seed = 1; seed <= 2000; seed++)
        {
            var scene = tyresDiffer ? new Scene(seed, Scene.WithOddTyres) : new Scene(seed);
            var motion = scene.Motion with { Rolling = tyresDiffer };
            var dense = Scene.Dense(scene.Truth, scene.Forced, scene.State, motion);
            if (scene.Model.Map(scene.Forced) is not { } map || dense is null) continue;
            var coefficients = new double[map.Width];
            for (var row = 0; row < map.Rows; row++)
            {
                map.Measured(row, scene.DomainMotion with { Rolling = motion.Rolling }, coefficients);
                worst.See(seed, row, (LoadMap.Value(coefficients, scene.State) - dense.Row(row)) / scene.Gross);
            }
        }

        output.WriteLine(worst.ToString());
        worst.Within(bound);
    }

    private void Compare(Func<Scene, RoadMotion> motion, Func<LoadMap, int, Scene, double> load)
    {
        var worst = new Worst();
        int compared = 0, impossible = 0, ill = 0;
        for (ulong seed = 1; seed <= Scenes; seed++)
        {
            var scene = new Scene(seed);
            var dense = Scene.Dense(scene.Truth, scene.Forced, scene.State, motion(scene));
            var map = scene.Model.Map(scene.Forced);
            Assert.True(map is null == dense is null, $"seed {seed}: only one of the two finds an equilibrium.");
            if (map is null || dense is null) impossible++;
            else if (!scene.WellConditioned(scene.Forced)) ill++;
            else
            {
                compared++;
                for (var row = 0; row < map.Rows; row++)
                    worst.See(seed, row, (load(map, row, scene) - dense.Row(row)) / scene.Gross);
            }
        }

        output.WriteLine($"{compared} compared, {impossible} without support, {ill} ill conditioned; {worst}");
        Assert.True(compared >= 5000 && impossible > 50, $"{compared} compared, {impossible} without support");
        worst.Within(Tolerance);
    }

    /// <summary>The greatest difference, and where it was.</summary>
    private sealed class Worst
    {
        private double _difference;
        private ulong _seed;
        private int _row;

        public void See(ulong seed, int row, double difference)
        {
            if (Math.Abs(difference) <= _difference) return;
            (_difference, _seed, _row) = (Math.Abs(difference), seed, row);
        }

        public void Within(double tolerance) => Assert.True(_difference <= tolerance, ToString());

        public override string ToString() =>
            string.Create(CultureInfo.InvariantCulture, $"greatest relative difference {_difference:e2} at seed {_seed}, row {_row}");
    }
}
