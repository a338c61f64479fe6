using AxleTelemetry.Domain.Statistics;
using CsCheck;

namespace AxleTelemetry.Domain.Tests.Statistics;

public sealed class LineFitTests
{
    private static readonly double[] NorrisX =
    [
        0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5, 11.6, 556.0, 228.1,
        995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5,
    ];

    private static readonly double[] NorrisY =
    [
        0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8, 557.7, 228.3,
        998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2,
    ];

    [Fact]
    public void Norris_published_NIST_StRD_certified_values()
    {
        var line = Assert.IsType<FittedLine>(LineFit.WithIntercept(NorrisX, NorrisY));
        Digits(-0.262323073774029, line.Intercept!.Value, 12);
        Digits(0.232818234301152, line.InterceptError!.Value, 13);
        Digits(1.00211681802045, line.Slope, 14);
        Digits(0.429796848199937e-3, line.SlopeError, 13);
        Digits(0.884796396144373, line.ResidualDeviation, 13);
        Assert.Equal(34, line.DegreesOfFreedom);
    }

    [Fact]
    public void NoInt1_published_NIST_StRD_certified_values()
    {
        double[] x = [.. Enumerable.Range(60, 11)], y = [.. Enumerable.Range(130, 11)];
        var line = Assert.IsType<FittedLine>(LineFit.ThroughOrigin(x, y));
        Digits(2.07438016528926, line.Slope, 14);
        Digits(0.0165289256198347, line.SlopeError, 14);
        Assert.Null(line.Intercept);
    }

    [Fact]
    public void NoInt2_published_NIST_StRD_certified_values()
    {
        var line = Assert.IsType<FittedLine>(LineFit.ThroughOrigin([4, 5, 6], [3, 4, 4]));
        Digits(0.727272727272727, line.Slope, 14);
    }

    [Fact]
    public void Leverages_sum_to_the_number_of_unknowns() =>
        Gen.Double[100, 600].Array[4, 30].Sample(x =>
        {
            var line = LineFit.WithIntercept(x, [.. x.Select(Math.Sin)]);
            return line is not FittedLine fitted || Math.Abs(fitted.Points.Sum(point => point.Leverage) - 2) < 1e-9;
        });

    [Fact]
    public void A_studentised_residual_is_the_prediction_error_of_the_line_without_the_point()
    {
        double[] x = [200, 260, 330, 410, 480, 560], y = [1900, 2620, 3200, 4420, 4690, 5500];
        var line = Assert.IsType<FittedLine>(LineFit.WithIntercept(x, y));
        for (var i = 0; i < x.Length; i++)
        {
            double[] restX = [.. x.Where((_, k) => k != i)], restY = [.. y.Where((_, k) => k != i)];
            var rest = Assert.IsType<FittedLine>(LineFit.WithIntercept(restX, restY));
            double departure = y[i] - rest.Intercept!.Value - rest.Slope * x[i], room = 1 - line.Points[i].Leverage;
            Assert.Equal(departure * Math.Sqrt(room) / rest.ResidualDeviation, line.Points[i].Studentised!.Value, 1e-9);
        }
    }

    [Fact]
    public void Bad_points_have_named_outcomes()
    {
        Assert.Equal(new NoLine(NoLineReason.LengthsDiffer), LineFit.WithIntercept([1, 2, 3], [1, 2]));
        Assert.Equal(new NoLine(NoLineReason.NotFinite), LineFit.WithIntercept([1, double.NaN, 3], [1, 2, 3]));
        Assert.Equal(new NoLine(NoLineReason.NotFinite), LineFit.WithIntercept([1, 2, 3], [1, double.PositiveInfinity, 3]));
        Assert.Equal(new NoLine(NoLineReason.NotFinite), LineFit.WithIntercept([1e200, 2e200, 3e200], [1, 2, 4]));
        Assert.Equal(new NoLine(NoLineReason.TooFewPoints), LineFit.WithIntercept([1, 2], [1, 2]));
        Assert.Equal(new NoLine(NoLineReason.TooFewPoints), LineFit.WithIntercept([], []));
        Assert.Equal(new NoLine(NoLineReason.EqualAbscissas), LineFit.WithIntercept([7, 7, 7, 7], [1, 2, 3, 4]));
        Assert.Equal(new NoLine(NoLineReason.EqualAbscissas), LineFit.ThroughOrigin([0, 0, 0], [1, 2, 3]));
    }

    [Fact]
    public void A_perfect_line_and_a_point_alone_give_no_studentised_residual_and_no_NaN()
    {
        var perfect = Assert.IsType<FittedLine>(LineFit.WithIntercept([1, 2, 3, 4, 5], [10, 20, 30, 40, 50]));
        Assert.Equal(10, perfect.Slope, 1e-12);
        Assert.All(perfect.Points, point => Assert.Null(point.Studentised));
        var alone = Assert.IsType<FittedLine>(LineFit.WithIntercept([1, 1, 1, 1, 9], [10, 11, 12, 10, 50]));
        Assert.Equal(1, alone.Points[4].Leverage, 1e-12);
        Assert.Null(alone.Points[4].Studentised);
        Assert.All(alone.Points[..4], point => Assert.True(double.IsFinite(point.Studentised!.Value)));
    }

    private static void Digits(double certified, double computed, int digits) =>
        Assert.InRange(Math.Abs(computed / certified - 1), 0, Math.Pow(10, -digits));
}
