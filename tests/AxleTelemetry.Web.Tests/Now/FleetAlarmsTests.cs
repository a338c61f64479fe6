using System.Collections.Immutable;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Web.Tests.Now;

/// <summary>What comes to one person is counted of the fleets that he answers for. The marks are those of <see cref="AlarmRate"/>.</summary>
public sealed class FleetAlarmsTests
{
    private static readonly FleetAlarms Alarms = new(ImmutableDictionary<string, AlarmBurden>.Empty.Add("north", new([0, 1, 2, 0, 0, 11])).Add("south", new([1, 0, 3, 0, 1, 1])));

    [Fact]
    public void The_same_hour_is_a_flood_for_who_answers_for_all_and_acceptable_for_who_answers_for_one()
    {
        Assert.Equal([1, 1, 5, 0, 1, 12], Alarms.Of(_ => true).ByTenMinutes);
        Assert.True(Alarms.Of(_ => true).IsFlood);
        Assert.Equal((6, Burden.Acceptable, false), (Alarms.Of(f => f == "south").PerHour, Alarms.Of(f => f == "south").Burden, Alarms.Of(f => f == "south").IsFlood));
        Assert.Equal(0, Alarms.Of(f => f == "west").PerHour);
    }
}
