using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Messages.Tests.Payloads;
using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Messages.Tests.Refusals;

public class RefusalCounterTests
{
    private static readonly RefusalLog OneEach = Decoded.Sample(UpStream.Pressure, """ "kpa":{"x":1,"tag":"y"} """).Refusals;

    [Fact]
    public void It_counts_by_vehicle_and_reason()
    {
        var counter = new RefusalCounter();
        counter.Add("north", "a", new Moment(1), OneEach);
        counter.Add("north", "a", new Moment(2), OneEach);
        counter.Add("north", "b", new Moment(3), OneEach);
        var a = counter.Of("north", "a");
        Assert.Equal(4, a.Total);
        Assert.Equal(2, a.Counts[RefusalReason.UnknownSensor]);
        Assert.Equal(2, a.Counts[RefusalReason.WrongType]);
        Assert.Equal([("north", "a"), ("north", "b")], counter.All().Select(entry => (entry.Fleet, entry.Vehicle)));
        Assert.Equal(0, counter.Of("south", "a").Total);
    }

    [Fact]
    public void It_keeps_the_last_few_in_words()
    {
        var counter = new RefusalCounter();
        for (var i = 0; i < 100; i++) counter.Add("north", "a", new Moment(i), OneEach);
        var recent = counter.Of("north", "a").Recent;
        Assert.Equal(RefusalCounter.RecentLimit, recent.Length);
        Assert.Equal(new Moment(99), recent[^1].Received);
        Assert.Equal(200, counter.Of("north", "a").Total);
    }

    [Fact]
    public void Vehicles_beyond_the_limit_are_counted_together()
    {
        var counter = new RefusalCounter(vehicleLimit: 1);
        foreach (var vehicle in new[] { "a", "b", "c", "a" }) counter.Add("north", vehicle, default, OneEach);
        Assert.Equal(4, counter.Of("north", "a").Total);
        Assert.Equal(4, counter.OfOthers().Total);
        Assert.Single(counter.All());
    }

    [Fact]
    public void A_message_without_refusals_changes_nothing()
    {
        var counter = new RefusalCounter();
        counter.Add("north", "a", default, new RefusalLog());
        Assert.Empty(counter.All());
    }
}
