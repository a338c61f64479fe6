using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Domain.Tests.Estimation;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Domain.Tests.Planning;

public sealed class PayloadSpreadTests
{
    private const ulong Seed = 91;
    private const int Draws = 40_000;

    /// <summary>Of payloads drawn from what is believed 95 % lie within the edge, also where the place is a wide quotient.</summary>
    [Theory]
    [InlineData(11_000, 4.2, 250, 0.15, 0.3)]
    [InlineData(3_000, 5.0, 400, 0.6, -0.8)]
    public void The_edge_holds_95_percent_of_what_is_drawn(double mass, double centre, double massSd, double placeSd, double correlation)
    {
        var across = mass * placeSd;
        var slope = centre * massSd + correlation * across;
        var momentVariance = slope * slope + across * across * (1 - correlation * correlation);
        var spread = new PayloadSpread(mass, mass * centre, massSd * massSd, massSd * slope, momentVariance);
        var edge = spread.Edge(720);
        Assert.Equal(720, edge.Length);
        var (random, within) = (new SeededRandom(Seed), 0);
        for (var i = 0; i < Draws; i++)
        {
            double u = random.Normal(1), v = random.Normal(1);
            var p = mass + massSd * u;
            var m = mass * centre + slope * u + across * Math.Sqrt(1 - correlation * correlation) * v;
            if (Holds(edge, m / p, p)) within++;
        }

        // Half a per cent: four and a half standard deviations of the count, and the corners that 720 points cut.
        Assert.True(Math.Abs(within / (double)Draws - 0.95) < 0.005, $"{within} of {Draws}, seed {Seed}");
    }

    /// <summary>Noise and considered errors add: what is taken from an estimate is the spread of states drawn from it.</summary>
    [Fact]
    public void Noise_and_considered_errors_are_both_in_the_spread()
    {
        var body = Fleet.Couple([Fleet.Example("rigid-6x2-tag.json")]).Bodies[0];
        var (estimate, random) = (new PayloadEstimate(2, 3), new SeededRandom(Seed));
        (estimate.State[0], estimate.State[1]) = (9000, 36_000);
        double[,] noise = { { 120, 0 }, { 300, 700 } };
        double[,] errors = { { 80, -50, 20 }, { 400, 250, -900 } };
        for (var i = 0; i < 2; i++)
        {
            for (var k = 0; k < 2; k++) estimate.Covariance[2 * i + k] = noise[i, 0] * noise[k, 0] + noise[i, 1] * noise[k, 1];
            for (var e = 0; e < 3; e++) estimate.Sensitivity[3 * i + e] = errors[i, e];
        }

        double pp = 0, pm = 0, mm = 0;
        for (var i = 0; i < Draws; i++)
        {
            double u = random.Normal(1), v = random.Normal(1), p = noise[0, 0] * u, m = noise[1, 0] * u + noise[1, 1] * v;
            for (var e = 0; e < 3; e++)
            {
                var drawn = random.Normal(1);
                (p, m) = (p + errors[0, e] * drawn, m + errors[1, e] * drawn);
            }

            (pp, pm, mm) = (pp + p * p / Draws, pm + p * m / Draws, mm + m * m / Draws);
        }

        var spread = PayloadSpread.Of(estimate, body);
        Assert.Equal(1, pp / spread.MassVariance, 0.03);
        Assert.Equal(1, mm / spread.MomentVariance, 0.03);
        Assert.Equal(0, (pm - spread.Covariance) / Math.Sqrt(spread.MassVariance * spread.MomentVariance), 0.02);
        Assert.Equal(4, spread.Centre);
    }

    [Fact]
    public void Next_to_nothing_aboard_has_no_place() => Assert.Empty(new PayloadSpread(600, 2400, 400 * 400, 0, 1e6).Edge(36));

    [Fact]
    public void What_is_stated_has_no_edge() => Assert.Empty(new PayloadSpread(9000, 36_000, 0, 0, 0).Edge(36));

    private static bool Holds(IReadOnlyList<(double X, double Y)> edge, double x, double y)
    {
        var inside = false;
        for (int i = 0, k = edge.Count - 1; i < edge.Count; k = i++)
            if (edge[i].Y > y != edge[k].Y > y && x < (edge[k].X - edge[i].X) * (y - edge[i].Y) / (edge[k].Y - edge[i].Y) + edge[i].X)
                inside = !inside;
        return inside;
    }
}
