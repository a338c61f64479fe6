using AxleTelemetry.Domain.Places;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Domain.Tests.Running;

public sealed class CurvatureTests
{
    private const int Draws = 200_000;

    /// <summary>Three points on a 50 m circle: 0.02 1/m (geometry).</summary>
    [Theory]
    [InlineData(0.1, 0.3)]
    [InlineData(1.0, 2.5)]
    [InlineData(-0.7, 0.2)]
    public void Points_on_a_circle_have_its_curvature(double second, double third) =>
        Assert.Equal(0.02, Curvature.Of(On(50, 0), On(50, second), On(50, third))!.Value, 12);

    [Fact]
    public void A_straight_road_does_not_bend() => Assert.Equal(0, Curvature.Of(new(0, 0), new(3, 4), new(6, 8)));

    [Fact]
    public void Points_that_coincide_say_nothing() => Assert.Null(Curvature.Of(new(1, 1), new(1, 1), new(6, 8)));

    /// <summary>Equally spaced: the root of 6, times sd, over spacing squared.</summary>
    [Fact]
    public void Noise_of_equal_spacings_is_the_root_of_six() =>
        Assert.Equal(Math.Sqrt(6) * 2 / 900, Math.Sqrt(Curvature.NoiseVariance(30, 30, 2)), 12);

    [Theory]
    [InlineData(11UL, 30, 30)]
    [InlineData(12UL, 40, 25)]
    public void Noise_is_what_drawn_noise_shows(ulong seed, double first, double second)
    {
        var random = new SeededRandom(seed);
        double sum = 0;
        for (var i = 0; i < Draws; i++)
        {
            var bend = Curvature.Of(Noisy(random, new(0, 0), 0.5), Noisy(random, new(first, 0), 0.5), Noisy(random, new(first + second, 0), 0.5))!.Value;
            sum += bend * bend;
        }

        var expected = Curvature.NoiseVariance(first, second, 0.5);
        Assert.True(Math.Abs(sum / Draws / expected - 1) < 0.02, $"seed {seed}: {sum / Draws} and {expected}");
    }

    /// <summary>On any bend the square without noise is right on average: within four standard errors and what noise does to spacing.</summary>
    [Theory]
    [InlineData(21UL, 1e9)]
    [InlineData(22UL, 1_000)]
    [InlineData(23UL, 200)]
    [InlineData(24UL, 60)]
    public void The_square_without_noise_is_unbiased(ulong seed, double radius)
    {
        const double spacing = 30, sd = 0.5;
        var random = new SeededRandom(seed);
        double sum = 0, squares = 0;
        var below = 0;
        for (var i = 0; i < Draws; i++)
        {
            var turn = spacing / radius;
            PlanePoint Point(int k) => Noisy(random, new(radius * Math.Sin(k * turn), radius * (1 - Math.Cos(k * turn))), sd);
            var squared = Curvature.SquaredWithoutNoise(Point(-1), Point(0), Point(1), sd)!.Value;
            sum += squared;
            squares += squared * squared;
            if (squared < 0) below++;
        }

        var mean = sum / Draws;
        var error = Math.Sqrt((squares / Draws - mean * mean) / Draws);
        var truth = 1 / (radius * radius);
        var spacingError = 10 * sd * sd / (spacing * spacing) * (truth + Curvature.NoiseVariance(spacing, spacing, sd));
        Assert.True(Math.Abs(mean - truth) < 4 * error + spacingError, $"seed {seed}: {mean}, {truth}, error {error}");
        Assert.True(radius < 1e6 || below > Draws / 4, $"seed {seed}: {below} below zero");
    }

    private static PlanePoint On(double radius, double angle) => new(radius * Math.Cos(angle), radius * Math.Sin(angle));

    private static PlanePoint Noisy(SeededRandom random, PlanePoint at, double sd) =>
        new(at.East + random.Normal(sd), at.North + random.Normal(sd));
}
