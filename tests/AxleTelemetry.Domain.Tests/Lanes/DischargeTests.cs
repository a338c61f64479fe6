using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Tests.Estimation;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Journeys;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>A body that gives its load off on the way is followed down even where nothing reports that it is at work.</summary>
public sealed class DischargeTests
{
    [Theory]
    [InlineData("rigid", 3000, 8000)]
    [InlineData("semi", 6000, 18000)]
    public void A_load_given_off_unreported_is_followed(string kind, double left, double loaded)
    {
        VehicleDescription[] vehicles = kind == "rigid"
            ? [Discharging("rigid-6x2-tag.json")]
            : [Fleet.Example("tractor-4x2.json"), Discharging("semi-tridem-lift-first.json")];
        var combination = Fleet.Couple(vehicles);
        var carrying = combination.Bodies.Single(b => b.StateIndex >= 0);
        var script = new JourneyScript
        {
            Combination = combination,
            Truth = TrueCombination.AsDescribed(combination),
            Sensors = [.. combination.Sensors.Select(s => new SensorTruth(s.Sensor.Handbook.OffsetKilograms, s.Sensor.Handbook.KilogramsPerKilopascal))],
            Fits = [.. combination.Sensors.Select(s => s.Sensor.Handbook)],
            Trip = LimitContext.Undeclared,
            Seed = 5,
            Start = new Quantities.Moment(1_772_432_045_000),
            Steps =
            [
                new JourneyStep.Load(carrying.Index, loaded, carrying.Vehicle.LoadSpace!.Centre.Metres, 300),
                new JourneyStep.Drive(10_000, 17, 0, false, 0),
                new JourneyStep.Drive(10_000, 12, 0, false, loaded - left),
                new JourneyStep.Drive(4_000, 17, 0, false, 0),
            ],
        };
        var lane = new Lane(new LaneSetup(combination, script.Fits, c => MarginTable.For(combination, c, Repository.Limits, script.Trip)));
        var outputs = new List<LaneOutput>();
        foreach (var (body, reading) in JourneyReadings.Of(script, JourneyPlayer.Play(script)))
            if (reading.Kind != ReadingKind.Condition) lane.Step(body, reading, outputs);
        Assert.Equal(left, lane.State.Payload.State[carrying.StateIndex], 0.05 * loaded);
        Assert.DoesNotContain(outputs, o => o is LaneOutput.Episode { Key.Kind: FindingKind.PressureStep or FindingKind.SensorDrifts });
    }

    private static VehicleDescription Discharging(string file)
    {
        var vehicle = Fleet.Example(file);
        return vehicle with { LoadSpace = vehicle.LoadSpace! with { Discharges = true } };
    }
}
