using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Watching;

namespace AxleTelemetry.Service.Tests.Watching;

/// <summary>What comes late is put in its place, and what that changes of what was told is told.</summary>
public class LateReadingTests
{
    private const string Rigid = "RT-01";
    private const int Light = 400, Heavy = 1100;
    private const double Fast = 20;
    private readonly WatchedConvoy _convoy = new();

    [Fact]
    public void An_overload_in_a_stretch_that_came_late_is_told_as_found_and_as_ended()
    {
        Play(0, 300, Light, Fast);
        Play(960, 1300, Light, Fast);
        Assert.Empty(Told());
        Send(300, 360, Heavy, 0);
        Send(360, 900, Heavy, Fast);
        Send(900, 960, Light, 0);
        _convoy.End();
        var found = Revised().Where(r => r.Finding.Key.Kind == FindingKind.Overload).ToList();
        Assert.NotEmpty(found);
        Assert.All(found, r => Assert.Equal((Revision.FoundEnded, true), (r.Change, r.Row is not null)));
        var sentence = new EventText().Of(found.Single(r => r.Finding.ToldWith is null));
        Assert.StartsWith("Axle 2 (drive)", sentence, StringComparison.Ordinal);
        Assert.Contains("Found with readings that came late; ended at 2026-03-02T06:1", sentence, StringComparison.Ordinal);
        Assert.Empty(Open());
    }

    [Fact]
    public void An_overload_that_held_before_what_came_late_goes_on_without_a_word()
    {
        Play(0, 300, Heavy, Fast);
        Play(310, 600, Heavy, Fast);
        var told = Told().Count;
        Assert.NotEqual(0, told);
        Play(300, 310, Heavy, Fast);
        Assert.NotEqual(0, _convoy.End().Late);
        Assert.Empty(Revised());
        Assert.Equal(told, Told().Count);
    }

    [Fact]
    public void An_end_that_came_late_is_told()
    {
        Play(0, 600, Heavy, Fast);
        Play(900, 920, Light, 0);
        Assert.NotEmpty(Open());
        Play(600, 700, Light, 0);
        Play(700, 900, Light, Fast);
        _convoy.End();
        Assert.Empty(Open());
        var ended = Assert.Single(Revised(), r => r is { Change: Revision.Ended, Finding: { Key.Kind: FindingKind.Overload, ToldWith: null } });
        Assert.StartsWith("Ended, as readings that came late say: axle 2 (drive) over its limit", new EventText().Of(ended), StringComparison.Ordinal);
    }

    [Fact]
    public void A_finding_that_late_readings_take_away_is_withdrawn()
    {
        Play(0, 300, Heavy, Fast);
        Assert.NotEmpty(Open());
        _convoy.Send(Rigid, "condition", $$"""{"samples":[{"t":{{WatchedConvoy.Ms(0.5)}},"ride":"raised"}]}""");
        var summary = _convoy.End();
        Assert.Empty(Open());
        var withdrawn = Revised().First(r => r.Change == Revision.Withdrawn);
        Assert.EndsWith(".", new EventText().Of(withdrawn), StringComparison.Ordinal);
        Assert.StartsWith("Withdrawn, as readings that came late say: ", new EventText().Of(withdrawn), StringComparison.Ordinal);
        Assert.DoesNotContain(summary.Episodes, e => e.Kind == FindingKind.Overload);
    }

    [Fact]
    public void A_reading_that_comes_again_is_counted_and_of_two_values_the_greater_counts()
    {
        _convoy.Pressure(Rigid, 0, "\"drive\":400");
        _convoy.Pressure(Rigid, 0, "\"drive\":400");
        _convoy.Pressure(Rigid, 0, "\"drive\":410");
        var summary = _convoy.End();
        Assert.Equal((3, 1), (summary.Readings, summary.NotTaken.Single(n => n.What == "sent again").Count));
        Assert.Equal(1, summary.NotTaken.Single(n => n.What == "sent again with another value").Count);
        Assert.Equal(410, _convoy.LaneOf(Rigid).State.Sensors[0].Pressure);
    }

    private List<LaneOutput.Episode> Told() => [.. _convoy.Said(Rigid).OfType<LaneOutput.Episode>().Where(e => e.Key.Kind == FindingKind.Overload)];

    private List<FleetEvent.Revised> Revised() => [.. _convoy.Events.OfType<FleetEvent.Revised>()];

    /// <summary>Overloads whose last word says that they hold.</summary>
    private List<FindingKey> Open()
    {
        var open = new Dictionary<FindingKey, bool>();
        foreach (var happened in _convoy.Events)
        {
            if (happened is FleetEvent.Said { Output: LaneOutput.Episode said }) open[said.Key] = said.Change != EpisodeChange.Closed;
            if (happened is FleetEvent.Revised revised) open[revised.Finding.Key] = revised.Change != Revision.Withdrawn && revised.Finding.Ended is null;
        }

        return [.. open.Where(o => o.Value && o.Key.Kind == FindingKind.Overload).Select(o => o.Key)];
    }

    /// <summary>A stretch, and a while in which nothing comes: what was late is put in its place.</summary>
    private void Play(int from, int to, int kpa, double speed)
    {
        Send(from, to, kpa, speed);
        _convoy.Silence(10);
    }

    private void Send(int from, int to, int kpa, double speed)
    {
        for (var i = from; i < to; i++) _convoy.Send(Rigid, "frame", WatchedConvoy.Frame(i, $"\"drive\":{kpa + i % 3},\"tag\":{kpa + i % 3}", speed));
    }
}
