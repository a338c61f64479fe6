using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Tests.Fleet;

public sealed class SeededRandomTests
{
    // From memory: the first outputs of SplitMix64 with seed 0.
    [Fact]
    public void From_memory_the_first_numbers_are_those_of_the_published_generator()
    {
        var random = new SeededRandom(0);
        Assert.Equal(0xE220A8397B1DCDAFul, random.Next());
        Assert.Equal(0x6E789E6AA1B965F4ul, random.Next());
    }

    [Fact]
    public void Normal_numbers_have_the_asked_spread()
    {
        var random = new SeededRandom(11);
        var values = Enumerable.Range(0, 100_000).Select(_ => random.Normal(3)).ToArray();
        Assert.Equal(0, values.Average(), 0.05);
        Assert.Equal(9, values.Average(v => v * v), 0.15);
        Assert.Equal(0.0455, values.Count(v => Math.Abs(v) > 6) / 100_000.0, 0.003);
    }

    [Fact]
    public void Whole_numbers_reach_both_bounds_evenly()
    {
        var random = new SeededRandom(2);
        var counts = Enumerable.Range(0, 30_000).Select(_ => random.Whole(-1, 1)).CountBy(v => v).ToDictionary();
        Assert.All([-1, 0, 1], v => Assert.InRange(counts[v], 9_600, 10_400));
    }

    [Theory]
    [InlineData(8150, 0, 400)]
    [InlineData(8150, 1.5, 401.5)]
    [InlineData(100, 0, 0)]
    public void A_sensor_shows_the_pressure_of_its_true_line(double sprung, double noise, double expected) =>
        Assert.Equal(expected, new SensorTruth(150, 20).TruthToPressure(sprung, noise).Kilopascals, 9);
}
