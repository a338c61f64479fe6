using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Telling;

namespace AxleTelemetry.Domain.Tests.Telling;

/// <summary>How many alarms a person can manage. Figures: ISA-18.2 / IEC 62682, weak copy.</summary>
public sealed class AlarmRateTests
{
    [Theory]
    [InlineData(6, Burden.Acceptable)]
    [InlineData(12, Burden.Manageable)]
    [InlineData(13, Burden.TooMuch)]
    public void Six_an_hour_is_acceptable_and_twelve_the_most_manageable_ISA_18_2_weak_copy(int perHour, Burden burden) =>
        Assert.Equal(burden, AlarmRate.BurdenOf(perHour));

    [Theory]
    [InlineData(10, 0)]
    [InlineData(11, 1)]
    public void More_than_ten_in_ten_minutes_is_a_flood_ISA_18_2_weak_copy(int alarms, int floods)
    {
        var desk = Ring(alarms, 0.9);
        Assert.Equal(floods, AlarmRate.Floods(desk.Told).Length);
    }

    [Fact]
    public void Eleven_in_exactly_ten_minutes_and_more_is_none() => Assert.Empty(AlarmRate.Floods(Ring(11, 1).Told));

    [Fact]
    public void Two_floods_apart_are_two_with_their_counts()
    {
        var desk = Ring(12, 0.5);
        Ring(15, 0.5, desk, 100);
        Assert.Equal([12, 15], AlarmRate.Floods(desk.Told).Select(f => f.Count));
    }

    [Fact]
    public void Held_for_more_than_a_day_is_stale_ISA_18_2_weak_copy()
    {
        var desk = Ring(1, 1);
        Assert.Empty(AlarmRate.Stale(desk.Book, Desk.Min(60 * 24)));
        Assert.Single(AlarmRate.Stale(desk.Book, Desk.Min(60 * 24 + 1)));
    }

    [Fact]
    public void Only_what_rings_counts()
    {
        var desk = Ring(3, 1);
        desk.Do(new OperatorAction.Acknowledge("Ada"), 5);
        Assert.Equal(3, AlarmRate.PerHour(desk.Told, Desk.Min(5)));
        Assert.Equal(2, AlarmRate.PerHour(desk.Told, Desk.Min(60)));
    }

    private static Desk Ring(int alarms, double minutes, Desk? desk = null, double from = 0)
    {
        desk ??= new Desk();
        for (var i = 0; i < alarms; i++) desk.Open(from + i * minutes, Level.Likely, new FindingKey(FindingKind.SensorDrifts, default, desk.Taken.Count));
        return desk;
    }
}
