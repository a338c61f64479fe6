using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;

namespace AxleTelemetry.Domain.Tests.Readings;

public class ReadingOrderTests
{
    private static readonly Reading[] Ordered =
    [
        new(new Moment(1), ReadingKind.Position, 5, 9), new(new Moment(2), ReadingKind.Pressure, 0, 9), new(new Moment(2), ReadingKind.Pressure, 1, 3),
        new(new Moment(2), ReadingKind.Pressure, 1, 4), new(new Moment(2), ReadingKind.Lift, 0, 0), new(new Moment(2), ReadingKind.Position, 0, 0),
    ];

    [Fact]
    public void Moment_then_stream_then_key_then_value() => Assert.Equal(Ordered, Ordered.Reverse().Order());

    [Fact]
    public void Comparing_allocates_nothing()
    {
        var sum = Ordered[2].CompareTo(Ordered[4]);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i < 1000; i++) sum += Ordered[2].CompareTo(Ordered[4]);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.True(sum < 0);
    }
}
