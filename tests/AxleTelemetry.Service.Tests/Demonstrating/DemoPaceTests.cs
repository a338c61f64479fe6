using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Demonstrating;
using AxleTelemetry.Service.Tests.Simulating;
using CsCheck;

namespace AxleTelemetry.Service.Tests.Demonstrating;

public sealed class DemoPaceTests
{
    private static readonly DateTimeOffset Start = new(2026, 11, 25, 15, 30, 0, TimeSpan.Zero);
    private static readonly Moment Now = new(Start.ToUnixTimeMilliseconds());

    [Fact]
    public void The_day_began_eight_hours_ago_and_its_first_seven_are_due_at_once()
    {
        var pace = new DemoPace(new LeapingClock(Start));
        Assert.Equal(Now.Plus(-8 * 3600), pace.DayBegins);
        Assert.Equal(Now.Plus(-3600), pace.StoredUntil);
        Assert.True(pace.IsDue(pace.DayBegins));
        Assert.True(pace.IsDue(pace.StoredUntil.Plus(-0.001)));
        Assert.Null(pace.Meets);
        Assert.Throws<InvalidOperationException>(() => pace.Due(pace.StoredUntil));
    }

    [Fact]
    public void The_last_hour_takes_twelve_minutes_and_what_follows_the_time_it_takes()
    {
        var pace = new DemoPace(new LeapingClock(Start));
        pace.Follow();
        Assert.Equal(Now.Plus(720), pace.Meets);
        Assert.Equal(Now, pace.Due(pace.StoredUntil));
        Assert.Equal(Now.Plus(1), pace.Due(pace.StoredUntil.Plus(6)));
        Assert.Equal(Now.Plus(600), pace.Due(Now));
        Assert.Equal(Now.Plus(720), pace.Due(Now.Plus(720)));
        Assert.Equal(Now.Plus(86_400), pace.Due(Now.Plus(86_400)));
    }

    [Fact]
    public void However_long_the_stored_took_nothing_is_due_before_it_happens_nor_before_what_came_first() =>
        Gen.Select(Gen.Double[0, 5000], Gen.Double[0, 90_000], Gen.Double[0, 90_000]).Sample((took, one, other) =>
        {
            var clock = new LeapingClock(Start);
            var pace = new DemoPace(clock);
            clock.Leap(TimeSpan.FromSeconds(took));
            pace.Follow();
            var (first, second) = (pace.StoredUntil.Plus(Math.Min(one, other)), pace.StoredUntil.Plus(Math.Max(one, other)));
            return pace.Due(first) >= first && pace.Due(first) <= pace.Due(second) && pace.Due(pace.Meets!.Value).SecondsSince(pace.Meets.Value) < 0.01;
        });

    [Theory]
    [InlineData(-1)]
    [InlineData(3)]
    [InlineData(3599)]
    [InlineData(9000)]
    public async Task Whoever_waits_goes_on_when_it_is_due(double seconds)
    {
        var clock = new LeapingClock(Start);
        var pace = new DemoPace(clock);
        pace.Follow();
        var at = pace.StoredUntil.Plus(seconds);
        await pace.UntilDue(at, TestContext.Current.CancellationToken);
        Assert.Equal(Math.Max(0, pace.Due(at).SecondsSince(Now)), (clock.GetUtcNow() - Start).TotalSeconds, 0.002);
    }
}
