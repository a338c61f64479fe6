using AxleTelemetry.Domain.Planning;
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
