using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>
/// The moving-off aid is found while it explains what the driving axle carries. Published: Implementing Regulation (EU) 2021/535, Annex XIII: it has ended before 30 km/h.
/// </summary>
public sealed class MovingOffFindingTests
{
    private const string Journey = """
        vehicle rigid-6x2-tag
        calibration tickets
        trip national
        seed 35

        journey
        load 9.5 t at 4.4 m in 10 min
        stop 5 min
        drive 8 km at 60 km/h
        stop 4 min
        lift tag unloaded
        drive 3 km at 25 km/h
        drive 20 km at 70 km/h
        stop 2 min

        findings
        """;

    [Fact]
    public void It_ends_when_the_vehicle_is_fast_though_the_axle_stays_relieved()
    {
        var found = Play(Journey);
        Assert.Equal([EpisodeChange.Opened, EpisodeChange.Closed], found.Where(e => e.Key.Kind == FindingKind.MovingOffAid).Select(e => e.Change));
        // From then on it is what it is: too much on the driving axle.
        var closed = found.Single(e => e is { Key.Kind: FindingKind.MovingOffAid, Change: EpisodeChange.Closed });
        Assert.Contains(found, e => e.Key is { Kind: FindingKind.Overload, Margin: { Kind: MarginKind.Axle, Element: 1 } } && e.At >= closed.At);
    }

    [Fact]
    public void It_is_told_once_where_the_axle_is_relieved_at_a_short_stop()
    {
        var found = Play(Journey.Replace("stop 4 min", "stop 30 s", StringComparison.Ordinal).Replace("drive 20 km at 70 km/h\n", "", StringComparison.Ordinal));
        Assert.Single(found, e => e is { Key.Kind: FindingKind.MovingOffAid, Change: EpisodeChange.Opened });
    }

    private static List<LaneOutput.Episode> Play(string journey)
    {
        var script = Assert.IsType<JourneyResult.Accepted>(JourneyText.Read(journey, Repository.Vehicle)).Script;
        var lane = new Lane(new LaneSetup(script.Combination, script.Fits, c => MarginTable.For(script.Combination, c, Repository.Limits, script.Trip)));
        var outputs = new List<LaneOutput>();
        foreach (var (body, reading) in JourneyReadings.Of(script, JourneyPlayer.Play(script))) lane.Step(body, reading, outputs);
        return [.. outputs.OfType<LaneOutput.Episode>()];
    }
}
