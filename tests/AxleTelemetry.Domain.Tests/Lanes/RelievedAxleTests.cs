using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Tests.Estimation;
using AxleTelemetry.Domain.Tests.Limits;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>What is left of a group beside an axle with relieved bellows is a group by law, and is judged as one.</summary>
public sealed class RelievedAxleTests
{
    private readonly SeededRandom _random = new(17);

    /// <summary>Published: Directive 96/53/EC, Annex I, 3.2.3: a tandem of a trailer at 1.3 m and more, below 1.8 m, 18 t.</summary>
    [Fact]
    public void The_tandem_beside_a_relieved_axle_is_told_when_it_is_over()
    {
        var combination = Fleet.Couple(Fleet.Example("tractor-4x2.json"), Fleet.Example("semi-tridem-lift-first.json"));
        var lane = new Lane(new LaneSetup(
            combination,
            [.. combination.Sensors.Select(s => s.Sensor.Handbook with { OffsetVariance = 30 * 30, GainVariance = Math.Pow(0.006 * s.Sensor.Handbook.KilogramsPerKilopascal, 2) })],
            c => MarginTable.For(combination, c, Repository.Limits, LimitFleet.National)));
        // 10.1 t on each of the two axles that carry: 20.2 t on a tandem, and less than the 24 t registered for the whole group.
        var tandem = Assert.Single(Drive(lane, [6000, 9_400]), e => e.Key is { Kind: FindingKind.Overload, Margin: { Kind: MarginKind.Group, Body: 1 } });
        Assert.Equal(18_000, Assert.IsType<FindingDetail.Excess>(tandem.Detail).Verdict.Margin.Limit);
    }

    private List<LaneOutput.Episode> Drive(Lane lane, double[] loads)
    {
        var outputs = new List<LaneOutput>();
        for (var s = 0; s < 900; s++)
        {
            var at = new Moment(1_772_432_045_000 + s * 1000L);
            if (s == 0) lane.Step(1, new Reading(at, ReadingKind.Lift, 0, (double)LiftReport.Unloaded), outputs);
            foreach (var part in lane.Setup.Combination.Sensors)
            {
                var pressure = (loads[part.Index] - part.Sensor.Handbook.OffsetKilograms) / part.Sensor.Handbook.KilogramsPerKilopascal;
                var key = (ushort)(part.Index - lane.Setup.Combination.Bodies[part.Body].FirstSensor);
                lane.Step(part.Body, new Reading(at, ReadingKind.Pressure, key, pressure + _random.Normal(2)), outputs);
            }

            lane.Step(0, new Reading(at, ReadingKind.Position, (ushort)PositionKey.Speed, 20), outputs);
        }

        return [.. outputs.OfType<LaneOutput.Episode>()];
    }
}
