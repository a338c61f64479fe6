using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>Curvature from headings as receivers give them: the slower, the noisier, since a course is a small velocity's direction.</summary>
public sealed class CurveTrackerTests
{
    // Noise of a receiver's velocity across the road, m/s. Common practice.
    private const double AcrossNoise = 0.08;

    /// <summary>Mean squared curvature of a road with bends that swing between 200 m left and right, 1/m2.</summary>
    private const double OfBends = 0.5 / 200 / 200;

    [Fact]
    public void A_straight_road_does_not_bend_where_the_traffic_stands()
    {
        Assert.InRange(Bend(_ => 20, _ => 0), -0.02 * OfBends, 0.02 * OfBends);
        // Half the time at walking pace: a twelfth of the way.
        Assert.InRange(Bend(InTraffic, _ => 0), -0.2 * OfBends, 0.2 * OfBends);
    }

    [Fact]
    public void Bends_are_found_in_spite_of_it()
    {
        Assert.InRange(Bend(_ => 20, Swinging), 0.9 * OfBends, 1.05 * OfBends);
        Assert.InRange(Bend(InTraffic, Swinging), 0.85 * OfBends, 1.2 * OfBends);
    }

    private static double InTraffic(int second) => second % 120 < 60 ? 20 : 1.5;

    private static double Swinging(double metres) => Math.Sin(metres / 100) / 200;

    private static double Bend(Func<int, double> speed, Func<double, double> curvature)
    {
        var (random, curve, motion) = (new SeededRandom(5), new CurveState(), new MotionState());
        double heading = 1, known = 0, squared = 0, from = 0;
        for (var s = 0; s < 20_000; s++)
        {
            var v = motion.Speed = speed(s);
            for (var k = 0; k < 10; k++) heading += curvature(motion.Metres + v * k / 10) * v / 10;
            motion.Metres += v;
            motion.Heading = (heading + random.Normal(AcrossNoise / v)) * 180 / Math.PI;
            motion.HeadingAt = 1_772_432_045_000 + s * 1000L;
            CurveTracker.Take(ref curve, motion, motion.HeadingAt);
            if (motion.Metres - from < 1000) continue;
            var (bends, metres) = CurveTracker.Of(curve);
            (known, squared, from) = (known + metres, squared + bends.Squared * metres, motion.Metres);
            CurveTracker.Restart(ref curve);
        }

        return squared / known;
    }
}
