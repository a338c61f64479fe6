using AxleTelemetry.Domain.Calibration;
using CsCheck;

namespace AxleTelemetry.Domain.Tests.Calibration;

public sealed class CircuitFitTests
{
    private static readonly CircuitFit Fit = Weighed.Fit(
        Weighed.OnPlatform("A", 310, 3980), Weighed.OnPlatform("B", 520, 6130), Weighed.OnPlatform("C", 705, 8060), Weighed.OnPlatform("D", 640, 7310));

    [Fact]
    public void Age_only_widens() => Gen.Select(Gen.Double[0, 20], Gen.Double[0, 20], Gen.Double[0, 1000]).Sample((one, other, pressure) =>
        Fit.Aged(Math.Min(one, other)).IntervalAt(pressure).HalfWidth <= Fit.Aged(Math.Max(one, other)).IntervalAt(pressure).HalfWidth);

    [Fact]
    public void A_year_adds_half_a_percent_of_gain_and_30_kg_in_quadrature()
    {
        // common practice
        var aged = Fit.Aged(2);
        Assert.Equal(Math.Pow(0.01 * Fit.KilogramsPerKilopascal, 2), aged.GainVariance - Fit.GainVariance, 1e-12);
        Assert.Equal(3600, aged.OffsetVariance - Fit.OffsetVariance, 1e-6);
        Assert.Equal(Fit, Fit.Aged(0));
        Assert.Throws<ArgumentOutOfRangeException>(() => Fit.Aged(-1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Fit.Aged(double.NaN));
    }

    [Fact]
    public void Beyond_the_tickets_is_marked_and_widens_with_the_distance()
    {
        Assert.False(Fit.IntervalAt(310).Extrapolated);
        Assert.False(Fit.IntervalAt(705).Extrapolated);
        Assert.True(Fit.IntervalAt(309.9).Extrapolated);
        Assert.True(Fit.IntervalAt(705.1).Extrapolated);
        for (var p = 705.0; p < 1500; p += 50) Assert.True(Fit.IntervalAt(p).HalfWidth < Fit.IntervalAt(p + 50).HalfWidth);
        for (var p = 310.0; p > 0; p -= 50) Assert.True(Fit.IntervalAt(p).HalfWidth < Fit.IntervalAt(p - 50).HalfWidth);
        Assert.True(Fit.IntervalAt(900).HalfWidth > (Fit with { GreatestPressure = 900 }).IntervalAt(900).HalfWidth);
    }

    [Fact]
    public void A_reading_is_less_certain_than_the_line_and_a_higher_level_is_wider()
    {
        Assert.True(Fit.ReadingIntervalAt(500).HalfWidth > Fit.IntervalAt(500).HalfWidth);
        Assert.True(Fit.IntervalAt(500, 0.99).HalfWidth > Fit.IntervalAt(500).HalfWidth);
        Assert.Throws<ArgumentOutOfRangeException>(() => Fit.IntervalAt(500, 1));
    }

    [Fact]
    public void A_gaussian_reader_is_within_three_percent_of_the_interval()
    {
        foreach (var p in new[] { 300.0, 500, 700 })
            Assert.InRange(Fit.IntervalAt(p).HalfWidth.Kilograms / (1.96 * Math.Sqrt(Fit.VarianceAt(p) + Fit.ExtrapolationVarianceAt(p))), 0.97, 1.03);
    }
}
