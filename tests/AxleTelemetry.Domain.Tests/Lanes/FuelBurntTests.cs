using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Tests.Estimation;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>Fuel that nobody reports is counted as burnt with each load: 0.25 kg a kilometre (common practice).</summary>
public sealed class FuelBurntTests
{
    private readonly SeededRandom _random = new(19);
    private readonly Lane _lane;
    private long _at = 1_772_432_045_000;

    public FuelBurntTests()
    {
        var combination = Fleet.Couple(Fleet.Example("rigid-6x2-tag.json"));
        _lane = new Lane(LaneSetup.FromHandbook(combination, c => MarginTable.For(combination, c, Repository.Limits, LimitContext.Undeclared)));
    }

    [Fact]
    public void The_first_reading_of_a_load_is_taken_with_nothing_burnt_of_it()
    {
        Drive(20_000, 20, 6_000, 3_900);
        Assert.Equal(-100, Burnt(), 1.0);
        Drive(300, 0, 6_000, 3_900);
        for (var i = 0; i < 60; i++)
            if (Drive(10, 20, 9_000, 5_850).OfType<LaneOutput.LoadBegan>().Any())
                break;
        Assert.Equal(1, _lane.State.Payload.Readings);
        Assert.Equal(0, Burnt(), 1.0);
    }

    /// <summary>By how much the service load is taken to be off, kg.</summary>
    private double Burnt()
    {
        var budget = _lane.Setup.Model.Budget;
        return _lane.State.Known.Deviation[budget.ServiceColumn(0)] * budget.Errors[budget.ServiceColumn(0)].Sd;
    }

    private List<LaneOutput> Drive(int seconds, double speed, params double[] loads)
    {
        var outputs = new List<LaneOutput>();
        for (var s = 0; s < seconds; s++, _at += 1000)
        {
            foreach (var part in _lane.Setup.Combination.Sensors)
            {
                var pressure = (loads[part.Index] - part.Sensor.Handbook.OffsetKilograms) / part.Sensor.Handbook.KilogramsPerKilopascal;
                _lane.Step(0, new Reading(new Moment(_at), ReadingKind.Pressure, (ushort)part.Index, pressure + _random.Normal(2)), outputs);
            }

            _lane.Step(0, new Reading(new Moment(_at), ReadingKind.Position, (ushort)PositionKey.Speed, speed), outputs);
        }

        return outputs;
    }
}
