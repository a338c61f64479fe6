using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Service.Fleet;

namespace AxleTelemetry.Service.Tests.Fleet;

public class CouplingTests
{
    private const string Tractor = "TR-04", Semi = "ST-06", Other = "TP-05";
    private Convoy _convoy = new();

    private string[] Pulls(string id) => [.. _convoy[id].Lane.Setup.Combination.Vehicles.Select(v => v.Id)];

    [Fact]
    public void A_tractor_is_solo_until_told()
    {
        _convoy.Pressure(Tractor, 0, "\"drive\":400");
        Assert.Equal([Tractor], Pulls(Tractor));
    }

    [Fact]
    public void A_coupling_gives_the_tractor_another_lane_from_its_moment_on()
    {
        _convoy.Pressure(Tractor, 0, "\"drive\":400");
        _convoy.Couple(Tractor, 1, Semi);
        _convoy.Pressure(Semi, 0.5, "\"bogie\":300");
        _convoy.Pressure(Semi, 1.5, "\"bogie\":310");
        _convoy.Lanes.Flush();
        Assert.Equal([Tractor, Semi], Pulls(Tractor));
        Assert.Equal((1, 1), (_convoy.Trailer(Semi).Counts.NotCoupled, _convoy.Trailer(Semi).Counts.Stepped));
        Assert.Equal([400, 310], _convoy[Tractor].Lane.State.Sensors.Select(s => s.Pressure));
        Assert.Equal(Convoy.Ms(1), Assert.Single(_convoy.Events.OfType<FleetEvent.Coupled>()).At.UnixMilliseconds);
    }

    [Fact]
    public void An_empty_list_makes_it_solo_again()
    {
        _convoy.Couple(Tractor, 0, Semi);
        _convoy.Couple(Tractor, 5);
        _convoy.Pressure(Semi, 6, "\"bogie\":300");
        _convoy.Lanes.Flush();
        Assert.Equal([Tractor], Pulls(Tractor));
        Assert.Equal(1, _convoy.Trailer(Semi).Counts.NotCoupled);
    }

    [Fact]
    public void Movement_and_lifts_go_on_through_a_coupling()
    {
        _convoy.Send(Other, "position", $$"""{"samples":[{"t":{{Convoy.Ms(0)}},"lat":46,"lon":15,"speed_mps":20},{"t":{{Convoy.Ms(1)}},"lat":46,"lon":15,"speed_mps":20}]}""");
        _convoy.Lift(Other, 0.5, "pusher", "raised");
        _convoy.Couple(Other, 2, Semi);
        _convoy.Lanes.Flush();
        Assert.Equal(20, _convoy[Other].Lane.State.Motion.Metres);
        Assert.Equal(1u << 1, _convoy[Other].Lane.Configuration.Raised);
    }

    [Fact]
    public void What_a_trailer_last_said_of_its_lift_holds_when_it_is_coupled()
    {
        _convoy.Lift(Semi, 0, "trailer-1", "raised");
        _convoy.Silence(3);
        _convoy.Couple(Tractor, 60, Semi);
        _convoy.Lanes.Flush();
        Assert.Equal(1u << 2, _convoy[Tractor].Lane.Configuration.Raised);
    }

    [Fact]
    public void Whoever_couples_a_trailer_takes_it_from_whom_it_hung_on_before()
    {
        _convoy.Couple(Tractor, 0, Semi);
        _convoy.Couple(Other, 10, Semi);
        _convoy.Pressure(Semi, 5, "\"bogie\":300");
        _convoy.Pressure(Semi, 15, "\"bogie\":320");
        _convoy.Lanes.Flush();
        Assert.Equal([Tractor], Pulls(Tractor));
        Assert.Equal([Other, Semi], Pulls(Other));
        Assert.Equal(2, _convoy.Trailer(Semi).Counts.Stepped);
        Assert.Equal(320, _convoy[Other].Lane.State.Sensors[^1].Pressure);
    }

    [Theory]
    [InlineData("RT-01", new[] { Semi }, "'RT-01' is a rigid: a semi-trailer needs a fifth wheel.")]
    [InlineData(Tractor, new[] { "XX-99" }, "Nobody described 'XX-99'.")]
    [InlineData(Tractor, new[] { "RT-01" }, "'RT-01' is no trailer.")]
    public void A_coupling_that_cannot_be_is_refused_with_its_reason(string vehicle, string[] trailers, string reason)
    {
        _convoy.Couple(vehicle, 0, trailers);
        _convoy.Lanes.Flush();
        Assert.Equal(reason, Assert.Single(_convoy.Events.OfType<FleetEvent.CouplingRefused>()).Reason);
        Assert.Equal(1, _convoy[vehicle].Counts.CouplingsRefused);
        Assert.Equal([vehicle], Pulls(vehicle));
    }

    [Fact]
    public void A_coupling_can_be_stated_for_vehicles_that_send_none()
    {
        _convoy = new Convoy(ImmutableDictionary<string, ImmutableArray<string>>.Empty.Add(Tractor, [Semi]));
        _convoy.Pressure(Semi, 0, "\"bogie\":300");
        _convoy.Lanes.Flush();
        Assert.Equal([Tractor, Semi], Pulls(Tractor));
        Assert.Equal(1, _convoy.Trailer(Semi).Counts.Stepped);
    }

    [Fact]
    public void A_late_coupling_holds_from_now_on_and_the_latest_of_them_counts()
    {
        _convoy.Pressure(Tractor, 100, "\"drive\":400");
        _convoy.Silence(3);
        _convoy.Couple(Tractor, 3);
        _convoy.Couple(Tractor, 5, Semi);
        _convoy.Couple(Tractor, 4);
        _convoy.Pressure(Tractor, 110, "\"drive\":400");
        _convoy.Lanes.Flush();
        Assert.Equal([Tractor, Semi], Pulls(Tractor));
    }

    [Fact]
    public void Open_episodes_end_with_the_combination_they_were_found_on()
    {
        for (var i = 0; i < 400; i++)
        {
            // A lever over the rear end: the driving axle is far over in every way.
            _convoy.Send(Tractor, "frame", $$"""{"samples":[{"t":{{Convoy.Ms(i)}},"kpa":{"drive":{{1100 + 5 * (i % 3)}}},"lat":46,"lon":15,"speed_mps":20}]}""");
        }

        _convoy.Couple(Tractor, 399.5);
        _convoy.Couple(Tractor, 400, Semi);
        _convoy.Lanes.Flush();
        var episodes = _convoy.Said(Tractor).OfType<LaneOutput.Episode>().ToList();
        var opened = episodes.Where(e => e.Change == EpisodeChange.Opened).Select(e => e.Key).ToHashSet();
        var closed = episodes.Where(e => e.Change == EpisodeChange.Closed).Select(e => e.Key).ToHashSet();
        Assert.NotEmpty(opened);
        Assert.Equal(opened, closed);
    }
}
