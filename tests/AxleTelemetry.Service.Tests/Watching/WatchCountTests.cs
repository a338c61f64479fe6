using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Watching;

namespace AxleTelemetry.Service.Tests.Watching;

public class WatchCountTests
{
    private const string Rigid = "RT-01";
    private readonly WatchedConvoy _convoy = new();

    [Fact]
    public void A_vehicle_nobody_described_is_counted_and_told_once()
    {
        for (var i = 0; i < 3; i++) _convoy.Pressure("XX-99", i, "\"drive\":400");
        Assert.Equal(3, _convoy.End().Refusals.Single(r => r.Reason == "unknown vehicle").Count);
        Assert.Single(_convoy.Events.OfType<FleetEvent.Unknown>());
    }

    [Fact]
    public void Fleets_are_known_by_their_first_message_and_kept_apart()
    {
        _convoy.Pressure(Rigid, 0, "\"drive\":400,\"tag\":390");
        _convoy.SendTo("axles/v1/south/RT-01/pressure", $$$"""{"samples":[{"t":{{{WatchedConvoy.Ms(1)}}},"kpa":{"drive":300,"tag":290}}]}""");
        _convoy.Pressure(Rigid, 2, "\"drive\":401,\"tag\":391");
        var summary = _convoy.End();
        Assert.Equal((6, 6), (summary.Readings, summary.Taken));
        Assert.Equal([new("north", Rigid), new("south", Rigid)], summary.Units.Select(u => u.Name));
        Assert.Equal(401, _convoy.LaneOf(Rigid).State.Sensors[0].Pressure);
    }

    [Fact]
    public void Bad_messages_in_between_are_counted_with_their_reason_and_change_nothing()
    {
        var clean = new WatchedConvoy();
        for (var i = 0; i < 60; i++)
        {
            foreach (var convoy in (WatchedConvoy[])[clean, _convoy]) convoy.Send(Rigid, "frame", WatchedConvoy.Frame(i, "\"drive\":400,\"tag\":390"));
            _convoy.Send(Rigid, "pressure", "no json");
            _convoy.Send(Rigid, "pressure", $$$"""{"samples":[{"t":{{{WatchedConvoy.Ms(i)}}},"kpa":{"nowhere":1,"tag":9999}}]}""");
            _convoy.SendTo("axles/v1/north", "{}");
        }

        clean.End();
        var refused = _convoy.End().Refusals.ToDictionary(r => r.Reason, r => r.Count);
        foreach (var reason in (RefusalReason[])[RefusalReason.NotJson, RefusalReason.UnknownSensor, RefusalReason.OutOfRange, RefusalReason.BadTopic])
            Assert.Equal(60, refused[RefusalWords.Of(reason)]);
        Assert.True(clean.LaneOf(Rigid).State.SameBits(_convoy.LaneOf(Rigid).State));
    }

    [Fact]
    public void Missing_numbers_are_counted()
    {
        foreach (var seq in (int[])[1, 2, 5]) _convoy.Send(Rigid, "pressure", $$$"""{"seq":{{{seq}}},"samples":[{"t":{{{WatchedConvoy.Ms(seq)}}},"kpa":{"drive":400}}]}""");
        Assert.Equal(2, _convoy.End().NotTaken.Single(n => n.What == "messages missing by their seq").Count);
    }

    [Fact]
    public void A_vehicle_says_that_it_is_offline()
    {
        _convoy.Send(Rigid, "presence", """{"online":true,"t":0}""");
        _convoy.Send(Rigid, "presence", """{"online":false}""");
        Assert.False(_convoy[Rigid].Online);
    }

    [Fact]
    public void A_lane_that_stopped_is_named_at_the_end()
    {
        _convoy.Pressure(Rigid, 0, "\"drive\":400");
        var summary = _convoy.End();
        Assert.Empty(summary.Stopped);
        using var text = new StringWriter();
        SummaryText.Write(summary with { Units = [summary.Units[0] with { StoppedBy = "a fault" }] }, text);
        Assert.Contains("north/RT-01 was not followed to the end by a fault of this program, please report it: a fault\n", text.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_at_all_comes_to_nothing() => Assert.Equal((0, 0), (_convoy.End().Messages, _convoy.End().Units.Length));
}
