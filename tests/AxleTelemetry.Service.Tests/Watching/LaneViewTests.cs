using System.Text;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Watching;

namespace AxleTelemetry.Service.Tests.Watching;

/// <summary>What can be seen of a lane at moments of the shipped journey.</summary>
public class LaneViewTests
{
    private const string Rigid = "RT-01";

    [Fact]
    public void Before_anything_is_measured_no_figure_is_shown()
    {
        var view = At("06:00:05");
        Assert.Equal(LoadStanding.None, view.Standing);
        Assert.Equal([Withheld.NothingMeasured], view.Withheld);
        Assert.Null(view.Gross);
        Assert.All(view.Axles, a => Assert.Null(a.Load));
        Assert.Equal("nothing measured yet", UnitText.Worth(view));
    }

    [Fact]
    public void On_the_road_every_axle_stands_beside_its_closest_limit()
    {
        var view = At("06:50:00");
        Assert.Equal((LoadStanding.Settled, Movement.Rolling), (view.Standing, view.Movement));
        Assert.Equal([LoadBasis.Inferred, LoadBasis.OwnSensor, LoadBasis.OwnSensor], view.Axles.Select(a => a.Basis));
        Assert.Equal([AxleState.Loaded, AxleState.Loaded, AxleState.Raised], view.Axles.Select(a => a.State));
        Assert.Equal(Level.Surely, view.Axles[1].Load!.Value.Closest!.Value.Level);
        Assert.Equal(11500, view.Axles[1].Load!.Value.Closest!.Value.Margin.Limit);
        Assert.Null(view.Axles[2].Load);
        Assert.Equal(view.Gross!.Value.Load.Mean, view.Axles.Sum(a => a.Load?.Load.Mean ?? 0), 1e-6);
        Assert.Contains(view.Open, o => o.Key.Kind == FindingKind.Overload && o.Level == Level.Surely);
        Assert.InRange(view.AgeSeconds!.Value, 0, 120);
        Assert.True(Assert.Single(view.Payloads).Load.Sd > 0);
    }

    [Fact]
    public void State_is_always_a_word()
    {
        var view = At("06:50:00");
        string[] lines = [.. UnitText.Axles(view, new Names(view.Combination)).Select(l => l.Text)];
        Assert.Contains("inferred", lines[0], StringComparison.Ordinal);
        Assert.StartsWith("(O) down axle 2 (drive) 16.", lines[1], StringComparison.Ordinal);
        Assert.EndsWith("of 11.5 t, surely over", lines[1], StringComparison.Ordinal);
        Assert.Equal(" ^  raised axle 3 (tag)", lines[2]);
        Assert.StartsWith("measured rolling", UnitText.Worth(view), StringComparison.Ordinal);
    }

    [Fact]
    public void After_a_stop_the_figures_are_said_to_be_provisional()
    {
        var view = At("06:57:30");
        Assert.Equal((LoadStanding.Provisional, Movement.Standing), (view.Standing, view.Movement));
        Assert.Contains(Withheld.LoadMayHaveChanged, view.Withheld);
        Assert.NotNull(view.Gross);
    }

    [Fact]
    public void Without_driving_height_loads_are_withheld_not_zero()
    {
        var convoy = Played("06:50:00");
        convoy.SendTo("axles/v1/north/RT-01/condition", """{"samples":[{"t":"2026-03-02T06:50:01Z","ride":"raised"}]}""");
        convoy.End();
        var view = convoy.LaneOf(Rigid).View();
        Assert.Equal(LoadStanding.None, view.Standing);
        Assert.Contains(Withheld.SuspensionOff, view.Withheld);
        Assert.All(view.Axles, a => Assert.Null(a.Load));
        Assert.NotNull(view.MeasuredAt);
    }

    [Fact]
    public void Looking_changes_nothing()
    {
        var (looked, left) = (Played("06:45:00"), Played("06:45:00"));
        looked.LaneOf(Rigid).View();
        Assert.True(looked.LaneOf(Rigid).State.SameBits(left.LaneOf(Rigid).State));
    }

    private static LaneView At(string time)
    {
        var convoy = Played(time);
        return convoy.LaneOf(Rigid).View();
    }

    private static WatchedConvoy Played(string until)
    {
        var convoy = new WatchedConvoy(wait: TimeSpan.FromSeconds(30));
        using var stream = File.OpenRead(ExampleFiles.Of("journey.ndjson"));
        var end = $"2026-03-02T{until}.000Z";
        foreach (var message in new RecordingReader(stream).Entries().OfType<RecordingEntry.Read>().Select(e => e.Message))
        {
            if (string.CompareOrdinal(message.Received!.Value.ToString(), end) > 0) break;
            convoy.SendAt(message.Topic.Replace("/example/", "/north/", StringComparison.Ordinal), Encoding.UTF8.GetString(message.Payload.Span), message.Received.Value);
        }

        convoy.End();
        return convoy;
    }
}
