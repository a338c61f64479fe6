using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Tests.Estimation;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>A measured split: a valve's ceiling is no split, and what departs on one vehicle is told of that one only.</summary>
public sealed class MeasuredSplitTests
{
    private readonly SeededRandom _random = new(13);

    [Fact]
    public void An_axle_held_by_its_valve_is_no_departing_split()
    {
        var rigid = Fleet.Example("rigid-6x2-tag.json");
        // Declared 1 to 0.65; the valve lets 4000 kg onto the tag and the drive axle takes the rest.
        var tag = rigid.Axles[2] with { CeilingForce = Mass.FromKilograms(4000) };
        var combination = Fleet.Couple(rigid with { Axles = rigid.Axles.SetItem(2, tag) });
        var lane = Lane(combination);
        var told = Drive(lane, [9800, 4000]);
        Assert.DoesNotContain(told, e => e.Key.Kind is FindingKind.SplitDeparts or FindingKind.PressureStep or FindingKind.SensorDrifts);
        var map = lane.Setup.Model.MapAt(lane.Configuration, lane.State.Payload.State)!;
        Assert.True(map.Configuration.IsAtCeiling(2));
        Assert.Equal(-1, lane.State.Known.SensorOf(1));
        var drive = lane.Setup.Estimator.Evaluate(lane.State.Payload, lane.State.Known, LinearForm.OfAxle(map, 1));
        Assert.Equal(9800 + 1250, drive.Mean, 100.0);
    }

    [Fact]
    public void A_departing_split_is_told_of_its_own_vehicle()
    {
        var rigid = Fleet.Example("rigid-6x2-tag.json");
        var centre = Fleet.Example("trailer-centre-axle.json");
        var bogie = centre.Sensors[0];
        centre = centre with { Sensors = [bogie with { Key = "t1", Axles = [0] }, bogie with { Key = "t2", Axles = [1] }], Rear = centre.Rear with { Law = ShareLaw.SeparateSprings } };
        var combination = Fleet.Couple(rigid, centre);
        // The truck shares 1 to 0.65 as declared, the trailer 1 to 0.6 instead of half and half.
        var told = Drive(Lane(combination), [6000, 3900, 5000, 3000]);
        var departs = Assert.Single(told, e => e.Key.Kind == FindingKind.SplitDeparts);
        Assert.Equal(1, departs.Key.Element);
    }

    [Fact]
    public void The_account_adds_up_the_loads_that_are_judged()
    {
        var lane = Lane(Fleet.Couple(Fleet.Example("rigid-6x2-tag.json")));
        // Declared 1 to 0.65: with that split the drive axle would carry 2 t less, and never more than 95 % of its rating.
        Drive(lane, [10_200, 2_600]);
        var map = lane.Setup.Model.MapAt(lane.Configuration, lane.State.Payload.State)!;
        for (var a = 1; a <= 2; a++)
        {
            var judged = lane.Setup.Estimator.Evaluate(lane.State.Payload, lane.State.Known, LinearForm.OfAxle(map, a));
            var tally = lane.State.AxleTallies[a];
            Assert.Equal(judged.Mean, tally.LoadMetres / tally.KnownMetres, 30.0);
        }

        Assert.True(lane.State.AxleTallies[1].HighSeconds > 0.9 * lane.State.UnitTally.Seconds);
    }

    /// <summary>Circuits that are known well.</summary>
    private static Lane Lane(Combination combination) => new(new LaneSetup(
        combination,
        [.. combination.Sensors.Select(s => s.Sensor.Handbook with { OffsetVariance = 30 * 30, GainVariance = Math.Pow(0.006 * s.Sensor.Handbook.KilogramsPerKilopascal, 2) })],
        c => MarginTable.For(combination, c, Repository.Limits, LimitContext.Undeclared)));

    /// <summary>Ten minutes with these sprung loads on the circuits, kg.</summary>
    private List<LaneOutput.Episode> Drive(Lane lane, double[] loads)
    {
        var outputs = new List<LaneOutput>();
        for (var s = 0; s < 900; s++)
        {
            var at = new Moment(1_772_432_045_000 + s * 1000L);
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
