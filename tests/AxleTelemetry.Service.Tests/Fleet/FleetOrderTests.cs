using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Fleet;

namespace AxleTelemetry.Service.Tests.Fleet;

public class FleetOrderTests
{
    private const string Rigid = "RT-01";
    private readonly Convoy _convoy = new();

    [Fact]
    public void A_reading_waits_until_something_is_two_seconds_later()
    {
        _convoy.Pressure(Rigid, 0, "\"drive\":400");
        _convoy.Pressure(Rigid, 1.999, "\"drive\":401");
        Assert.Equal(0, _convoy[Rigid].Counts.Stepped);
        _convoy.Pressure(Rigid, 2, "\"drive\":402");
        Assert.Equal(1, _convoy[Rigid].Counts.Stepped);
    }

    [Fact]
    public void Readings_are_taken_by_their_moment_not_as_they_come()
    {
        _convoy.Lift(Rigid, 1.5, "tag", "lowered");
        _convoy.Lift(Rigid, 0.5, "tag", "raised");
        _convoy.Lanes.Flush();
        Assert.Equal([true, false], _convoy.Said(Rigid).OfType<LaneOutput.Configured>().Select(c => c.Configuration.Raised != 0));
        Assert.Equal([Convoy.Ms(0.5), Convoy.Ms(1.5)], _convoy.Said(Rigid).Select(o => o.At.UnixMilliseconds));
    }

    [Fact]
    public void Nothing_more_for_two_seconds_ends_the_waiting()
    {
        _convoy.Pressure(Rigid, 0, "\"drive\":400");
        _convoy.Silence(1.9);
        Assert.Equal(0, _convoy[Rigid].Counts.Stepped);
        _convoy.Silence(2.1);
        Assert.Equal(1, _convoy[Rigid].Counts.Stepped);
    }

    [Fact]
    public void What_comes_again_is_dropped_and_counted_before_and_after_it_was_taken()
    {
        _convoy.Pressure(Rigid, 0, "\"drive\":400");
        _convoy.Pressure(Rigid, 0, "\"drive\":400");
        _convoy.Lanes.Flush();
        _convoy.Pressure(Rigid, 0, "\"drive\":400");
        _convoy.Lanes.Flush();
        var counts = _convoy[Rigid].Counts;
        Assert.Equal((3, 1, 2, 0), (counts.Readings, counts.Stepped, counts.Repeated, counts.Late));
    }

    [Theory]
    [InlineData(400, 410)]
    [InlineData(410, 400)]
    public void Of_two_values_for_one_moment_the_greater_counts(int first, int second)
    {
        _convoy.Pressure(Rigid, 0, $"\"drive\":{first}");
        _convoy.Pressure(Rigid, 0, $"\"drive\":{second}");
        _convoy.Lanes.Flush();
        Assert.Equal(1, _convoy[Rigid].Counts.Conflicting);
        Assert.Equal(410, _convoy[Rigid].Lane.State.Sensors[0].Pressure);
    }

    [Fact]
    public void What_comes_late_is_counted_and_not_stepped()
    {
        _convoy.Pressure(Rigid, 10, "\"drive\":400");
        _convoy.Lanes.Flush();
        _convoy.Pressure(Rigid, 9, "\"drive\":500");
        _convoy.Lanes.Flush();
        Assert.Equal((1, 1), (_convoy[Rigid].Counts.Late, _convoy[Rigid].Counts.Stepped));
        Assert.Equal(400, _convoy[Rigid].Lane.State.Sensors[0].Pressure);
    }

    [Fact]
    public void A_late_word_of_a_lift_holds_from_now_on_unless_a_later_one_was_taken()
    {
        _convoy.Pressure(Rigid, 10, "\"drive\":400");
        _convoy.Lanes.Flush();
        _convoy.Lift(Rigid, 5, "tag", "raised");
        _convoy.Lift(Rigid, 4, "tag", "lowered");
        _convoy.Lanes.Flush();
        Assert.Equal(2, _convoy[Rigid].Counts.Late);
        Assert.Equal(1u << 2, _convoy[Rigid].Lane.Configuration.Raised);
    }

    [Fact]
    public void A_vehicle_nobody_described_is_counted_and_told_once()
    {
        for (var i = 0; i < 3; i++) _convoy.Pressure("XX-99", i, "\"drive\":400");
        Assert.Equal(3, _convoy.Lanes.Unknown.Messages);
        Assert.Single(_convoy.Events.OfType<FleetEvent.Unknown>());
    }

    [Fact]
    public void Bad_messages_in_between_are_counted_with_their_reason_and_change_nothing()
    {
        var clean = new Convoy();
        for (var i = 0; i < 60; i++)
        {
            foreach (var convoy in (Convoy[])[clean, _convoy])
            {
                convoy.Pressure(Rigid, i, "\"drive\":400,\"tag\":390");
                convoy.Send(Rigid, "position", $$"""{"samples":[{"t":{{Convoy.Ms(i)}},"lat":46,"lon":15,"speed_mps":20}]}""");
            }

            _convoy.Send(Rigid, "pressure", "no json");
            _convoy.Send(Rigid, "pressure", $$$"""{"samples":[{"t":{{{Convoy.Ms(i)}}},"kpa":{"nowhere":1,"tag":9999}}]}""");
            _convoy.SendTo("axles/v1/north", "{}");
        }

        clean.Lanes.Flush();
        _convoy.Lanes.Flush();
        var refused = _convoy.Lanes.Refusals.Of("north", Rigid).Counts;
        Assert.Equal((60, 60, 60), (refused[RefusalReason.NotJson], refused[RefusalReason.UnknownSensor], refused[RefusalReason.OutOfRange]));
        Assert.Equal(60, _convoy.Lanes.Refusals.Of("", "").Counts[RefusalReason.BadTopic]);
        Assert.Equal(clean[Rigid].Counts.Stepped, _convoy[Rigid].Counts.Stepped);
        Assert.True(clean[Rigid].Lane.State.SameBits(_convoy[Rigid].Lane.State));
    }

    [Fact]
    public void Missing_numbers_are_counted()
    {
        foreach (var seq in (int[])[1, 2, 5]) _convoy.Send(Rigid, "pressure", $$$"""{"seq":{{{seq}}},"samples":[{"t":{{{Convoy.Ms(seq)}}},"kpa":{"drive":400}}]}""");
        Assert.Equal(2, _convoy[Rigid].Counts.Gaps);
    }

    [Fact]
    public void A_vehicle_says_that_it_is_offline()
    {
        _convoy.Send(Rigid, "presence", """{"online":true,"t":0}""");
        _convoy.Send(Rigid, "presence", """{"online":false}""");
        Assert.False(_convoy[Rigid].Online);
    }

    [Fact]
    public void What_was_taken_is_forgotten_after_a_while()
    {
        var queue = new ReadingQueue();
        for (var i = 0; i < 5000; i++)
        {
            Assert.Equal(Placing.Queued, queue.Add(new Reading(new(i * 1000), ReadingKind.Pressure, 0, i)));
            queue.Take();
            queue.Close(i * 1000);
        }

        Assert.Equal(Placing.Repeated, queue.Add(new Reading(new(4_980_000), ReadingKind.Pressure, 0, 4980)));
        Assert.Equal(Placing.Late, queue.Add(new Reading(new(1000), ReadingKind.Pressure, 0, 1)));
    }
}
