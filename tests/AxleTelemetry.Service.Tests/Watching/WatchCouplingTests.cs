using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Watching;

namespace AxleTelemetry.Service.Tests.Watching;

public class WatchCouplingTests
{
    private const string Tractor = "TR-04", Semi = "ST-06", Other = "TP-05";
    private WatchedConvoy _convoy = new();

    private string[] Pulls(string id) => [.. _convoy[id].Members.Select(v => v.Id)];

    [Fact]
    public void A_coupling_gives_the_tractor_another_lane_from_its_moment_on_and_is_told()
    {
        _convoy.Pressure(Tractor, 0, "\"drive\":400");
        Assert.Equal([Tractor], Pulls(Tractor));
        _convoy.Couple(Tractor, 1, Semi);
        _convoy.Pressure(Semi, 0.5, "\"bogie\":300");
        _convoy.Pressure(Semi, 1.5, "\"bogie\":310");
        _convoy.End();
        Assert.Equal([Tractor, Semi], Pulls(Tractor));
        Assert.Equal([400, 310], _convoy.LaneOf(Tractor).State.Sensors.Select(s => s.Pressure));
        var told = Assert.Single(_convoy.Events.OfType<FleetEvent.Coupled>());
        Assert.Equal((WatchedConvoy.Ms(1), Semi), (told.At.UnixMilliseconds, Assert.Single(told.Trailers)));
    }

    [Fact]
    public void An_empty_list_makes_it_solo_again_and_the_trailer_is_nobodys()
    {
        _convoy.Couple(Tractor, 0, Semi);
        _convoy.Couple(Tractor, 5);
        _convoy.Pressure(Semi, 6, "\"bogie\":300");
        _convoy.End();
        Assert.Equal([Tractor], Pulls(Tractor));
        Assert.Null(_convoy[Semi].Behind);
        Assert.Contains("no vehicle says that it hangs on it", _convoy[Semi].NotCoupled);
    }

    [Fact]
    public void What_a_trailer_last_said_of_its_lift_holds_when_it_is_coupled()
    {
        _convoy.Lift(Semi, 0, "trailer-1", "raised");
        _convoy.Silence(3);
        _convoy.Couple(Tractor, 60, Semi);
        _convoy.End();
        Assert.Equal(1u << 2, _convoy.LaneOf(Tractor).Configuration.Raised);
    }

    [Fact]
    public void Whoever_couples_a_trailer_takes_it_from_whom_it_hung_on_before()
    {
        _convoy.Couple(Tractor, 0, Semi);
        _convoy.Couple(Other, 10, Semi);
        _convoy.Pressure(Semi, 5, "\"bogie\":300");
        _convoy.Pressure(Semi, 15, "\"bogie\":320");
        _convoy.End();
        Assert.Equal([Tractor], Pulls(Tractor));
        Assert.Equal([Other, Semi], Pulls(Other));
        Assert.Equal(320, _convoy.LaneOf(Other).State.Sensors[^1].Pressure);
    }

    [Theory]
    [InlineData("RT-01", new[] { Semi }, "'RT-01' is a rigid: a semi-trailer needs a fifth wheel")]
    [InlineData("R8-03", new[] { "XX-99" }, "'R8-03' has no rear coupling for 'XX-99'")]
    [InlineData(Tractor, new[] { "RT-01" }, "'RT-01' is no trailer")]
    public void A_coupling_that_cannot_be_is_refused_with_its_reason(string vehicle, string[] trailers, string reason)
    {
        _convoy.Pressure(vehicle, 0, "\"drive\":400");
        _convoy.Couple(vehicle, 1, trailers);
        var summary = _convoy.End();
        var refused = Assert.Single(_convoy.Events.OfType<FleetEvent.Refused>()).Refusal;
        Assert.Equal(RefusalReason.CannotBeCoupled, refused.Reason);
        Assert.Contains(reason, refused.Right, StringComparison.Ordinal);
        Assert.Equal(1, Assert.Single(summary.Refusals).Count);
        Assert.Equal([vehicle], Pulls(vehicle));
    }

    [Fact]
    public void A_coupling_can_be_stated_for_vehicles_that_send_none()
    {
        _convoy = new WatchedConvoy(ImmutableDictionary<string, ImmutableArray<string>>.Empty.Add(Tractor, [Semi]));
        _convoy.Pressure(Semi, 0, "\"bogie\":300");
        _convoy.End();
        Assert.Equal([Tractor, Semi], Pulls(Tractor));
        Assert.Equal(300, _convoy.LaneOf(Tractor).State.Sensors[^1].Pressure);
    }

    [Fact]
    public void A_coupling_that_comes_late_holds_from_its_own_moment()
    {
        _convoy.Pressure(Tractor, 100, "\"drive\":400");
        _convoy.Silence(3);
        _convoy.Pressure(Semi, 50, "\"bogie\":300");
        _convoy.Couple(Tractor, 3, Semi);
        _convoy.End();
        Assert.Equal([Tractor, Semi], Pulls(Tractor));
        Assert.Equal([400, 300], _convoy.LaneOf(Tractor).State.Sensors.Select(s => s.Pressure));
    }

    [Fact]
    public void Open_episodes_end_with_the_combination_they_were_found_on()
    {
        // A lever over the rear end: the driving axle is far over in every way.
        for (var i = 0; i < 400; i++) _convoy.Send(Tractor, "frame", WatchedConvoy.Frame(i, $"\"drive\":{1100 + 5 * (i % 3)}"));
        _convoy.Couple(Tractor, 400, Semi);
        _convoy.End();
        var episodes = _convoy.Said(Tractor).OfType<LaneOutput.Episode>().ToList();
        var opened = episodes.Where(e => e.Change == EpisodeChange.Opened).Select(e => e.Key).ToHashSet();
        Assert.NotEmpty(opened);
        Assert.Equal(opened, episodes.Where(e => e.Change == EpisodeChange.Closed).Select(e => e.Key).ToHashSet());
    }
}
