using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Service.Drives;
using CsCheck;

namespace AxleTelemetry.Service.Tests.Drives;

/// <summary>What must stay true however many speeds are drawn by however few points.</summary>
public sealed class SpeedReductionTests
{
    private const double Seconds = 7200;

    private static readonly Moment From = new(1_772_431_200_000), To = From.Plus(Seconds);

    private static readonly Gen<Reading[]> Readings =
        Gen.Select(Gen.Int[-600, 7_800], Gen.Double[0, 30], Gen.Bool).Array[0, 300].Select(all => all.Select(r => r.Item3 ? Ground(r.Item1, r.Item2) : Wheels(r.Item1, r.Item2)).ToArray());

    [Fact]
    public void No_extreme_of_the_span_is_lost_in_whatever_order_messages_come() => Gen.Select(Readings, Gen.Int[10, 900]).Sample((readings, points) =>
    {
        var ground = readings.Where(r => r.Kind == ReadingKind.Position && r.At >= From && r.At <= To).ToArray();
        var line = Reduce(ground, points).Where(p => p.Speed is not null).ToArray();
        Assert.Equal(Reduce(ground, points), Reduce([.. ground.Reverse()], points));
        Assert.Equal(ground.Length > 0, line.Length > 0);
        if (ground.Length == 0) return;
        Assert.Equal((ground.Min(r => r.Value), ground.Max(r => r.Value)), (line.Min(p => p.Speed!.Value), line.Max(p => p.Speed!.Value)));
    });

    [Fact]
    public void Points_are_in_order_within_the_span_and_at_most_two_a_place() => Gen.Select(Readings, Gen.Int[10, 900]).Sample((readings, points) =>
    {
        var line = Reduce(readings, points);
        Assert.True(line.Length <= 3 * (points + 1));
        Assert.All(line, p => Assert.True(p.At >= From && p.At <= To.Plus(1)));
        Assert.All(line.Zip(line.Skip(1)), pair => Assert.True(pair.First.At <= pair.Second.At));
    });

    [Fact]
    public void Wheels_speak_where_nothing_is_known_over_ground()
    {
        var line = Reduce([Ground(0, 20), Wheels(1, 5), Wheels(3_600, 7)], 10);
        Assert.Equal([20, null, 7], line.Select(p => p.Speed));
    }

    [Fact]
    public void Silence_breaks_the_line()
    {
        Assert.Equal([10, 11], Reduce([Ground(0, 10), Ground(LoadReduction.SilenceSeconds, 11)], 900).Select(p => p.Speed));
        Assert.Equal([10, null, 11], Reduce([Ground(0, 10), Ground(LoadReduction.SilenceSeconds + 1, 11)], 900).Select(p => p.Speed));
    }

    private static System.Collections.Immutable.ImmutableArray<Web.Sight.SpeedAt> Reduce(Reading[] readings, int points)
    {
        var reduction = new SpeedReduction(From, To, points);
        reduction.Take(readings);
        return reduction.Done();
    }

    private static Reading Ground(double seconds, double speed) => new(From.Plus(seconds), ReadingKind.Position, (ushort)PositionKey.Speed, speed);

    private static Reading Wheels(double seconds, double speed) => new(From.Plus(seconds), ReadingKind.Condition, (ushort)ConditionKey.WheelSpeed, speed);
}
