using System.Globalization;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Tests.Calibration;

/// <summary>Vehicles drawn from the prior, weighed, fitted: does the stated 95 % interval hold the truth in 92 to 98 % of cases?</summary>
public sealed class CoverageTests(ITestOutputHelper output)
{
    private const int Draws = 4000;
    private const double Full = 9000;

    public enum Residual
    {
        AsStated,
        DrawnFromThePrior,
    }

    [Theory]
    [InlineData(0, Residual.AsStated)]
    [InlineData(1, Residual.AsStated)]
    [InlineData(2, Residual.AsStated)]
    [InlineData(4, Residual.AsStated)]
    [InlineData(10, Residual.AsStated)]
    [InlineData(20, Residual.AsStated)]
    [InlineData(1, Residual.DrawnFromThePrior)]
    [InlineData(2, Residual.DrawnFromThePrior)]
    [InlineData(4, Residual.DrawnFromThePrior)]
    [InlineData(20, Residual.DrawnFromThePrior)]
    public void Stated_95_percent_intervals_cover_92_to_98_percent(int tickets, Residual residual)
    {
        var seed = 20260302 + tickets;
        var random = new Random(seed);
        double[] shares = [0.4, 0.7, 1.0];
        int[] line = new int[3], reading = new int[3];
        double[] width = new double[3];
        for (var draw = 0; draw < Draws; draw++)
        {
            var vehicle = Vehicle.Draw(random, residual);
            var fit = Weighed.Fit([.. Enumerable.Range(0, tickets).Select(i => vehicle.Weigh(random, i))]);
            for (var k = 0; k < shares.Length; k++)
            {
                var load = shares[k] * Full - Weighed.Unsprung.Kilograms;
                var pressure = (load - vehicle.Offset) / vehicle.Gain;
                if (Holds(fit.IntervalAt(pressure), load)) line[k]++;
                if (Holds(fit.ReadingIntervalAt(pressure), load + vehicle.Residual * Gauss(random))) reading[k]++;
                width[k] += fit.IntervalAt(pressure).HalfWidth.Kilograms / Draws;
            }
        }
        for (var k = 0; k < shares.Length; k++)
            output.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"seed {seed}, {tickets} tickets, {shares[k]:0%} load: line {(double)line[k] / Draws:0.0%} (+-{width[k]:0} kg), reading {(double)reading[k] / Draws:0.0%}"));
        Assert.All(line.Concat(reading), count => Assert.InRange((double)count / Draws, 0.92, 0.98));
    }

    private static bool Holds(LoadInterval interval, double kilograms) => Math.Abs(interval.Estimate.Kilograms - kilograms) <= interval.HalfWidth.Kilograms;

    private static double Gauss(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private sealed record Vehicle(double Offset, double Gain, double Residual)
    {
        public static Vehicle Draw(Random random, Residual residual) => new(
            150 * Gauss(random), 10 * (1 + 0.06 * Gauss(random)),
            0.015 * Full * (residual == CoverageTests.Residual.AsStated ? 1 : Math.Sqrt(2 / Enumerable.Range(0, 4).Sum(_ => Math.Pow(Gauss(random), 2)))));

        /// <summary>Weighed somewhere between 40 and 100 % of full, in turn on a platform and axle by axle.</summary>
        public Ticket Weigh(Random random, int number)
        {
            var load = (0.4 + 0.6 * random.NextDouble()) * Full - Weighed.Unsprung.Kilograms;
            var pressure = (load - Offset + Residual * Gauss(random)) / Gain;
            var axle = load + Weighed.Unsprung.Kilograms;
            return number % 2 == 0
                ? Weighed.OnPlatform($"W{number}", pressure, axle + 26 * Gauss(random))
                : Weighed.OnBridge($"W{number}", pressure, axle * (1 + 0.015 * Gauss(random)));
        }
    }
}
