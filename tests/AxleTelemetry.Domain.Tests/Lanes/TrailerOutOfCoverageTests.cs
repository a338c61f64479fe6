using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>A trailer whose own unit has no coverage says nothing at all while its tractor is heard: no sensor of it is at fault.</summary>
public sealed class TrailerOutOfCoverageTests
{
    private const string Journey = """
        vehicle tractor-4x2
        vehicle semi-tridem-lift-first
        calibration tickets
        trip national
        seed 5

        journey
        lift trailer-1 lowered
        load 12 t at 6.0 m in 10 min
        stop 2 min
        drive 40 km at 75 km/h
        stop 2 min

        findings
        """;

    [Fact]
    public void Its_sensor_is_not_told_to_be_silent() => Assert.Empty(Silent(r => r.Body == 1));

    [Fact]
    public void A_sensor_that_alone_says_nothing_is() => Assert.NotEmpty(Silent(r => r is { Body: 1, Reading.Kind: ReadingKind.Pressure }));

    private static List<LaneOutput.Episode> Silent(Func<(int Body, Reading Reading), bool> lost)
    {
        var script = Assert.IsType<JourneyResult.Accepted>(JourneyText.Read(Journey, Repository.Vehicle)).Script;
        var lane = new Lane(new LaneSetup(script.Combination, script.Fits, c => MarginTable.For(script.Combination, c, Repository.Limits, script.Trip)));
        var outputs = new List<LaneOutput>();
        var from = script.Start.Plus(25 * 60);
        foreach (var (body, reading) in JourneyReadings.Of(script, JourneyPlayer.Play(script)))
        {
            // The trailer's unit tells the outside temperature besides, so that it is heard as long as it has a connection.
            if (body == 1 && !(reading.At > from && lost((body, new Reading(reading.At, ReadingKind.Condition, (ushort)ConditionKey.Ambient, 8)))))
                lane.Step(body, new Reading(reading.At, ReadingKind.Condition, (ushort)ConditionKey.Ambient, 8), outputs);
            if (reading.At <= from || !lost((body, reading))) lane.Step(body, reading, outputs);
        }

        return [.. outputs.OfType<LaneOutput.Episode>().Where(e => e.Key.Kind == FindingKind.SensorSilent)];
    }
}
