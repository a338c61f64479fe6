using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Tests.Estimation;
using AxleTelemetry.Domain.Tests.Limits;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>The first settled reading of a load decides nothing for good.</summary>
public sealed class FirstReadingTests
{
    private readonly List<LaneOutput> _outputs = [];
    private readonly SeededRandom _random = new(8);
    private readonly Lane _lane;
    private int _second;

    public FirstReadingTests()
    {
        var combination = Fleet.Couple(Fleet.Example("rigid-6x2-tag.json"));
        _lane = new Lane(LaneSetup.FromHandbook(combination, c => MarginTable.For(combination, c, LimitFleet.Directive, LimitContext.Undeclared)));
    }

    [Fact]
    public void A_wrong_first_reading_of_a_load_is_mended_by_those_after_it()
    {
        // 300 m to roll, then one window with both circuits far too low.
        Drive(66, 250);
        Assert.Equal(1, _lane.State.Payload.Readings);
        var wrong = _lane.State.Payload.State[0];
        Drive(400, 450);
        Assert.True(_lane.State.Payload.State[0] > wrong + 4_000, "the payload followed");
        Assert.DoesNotContain(_outputs.OfType<LaneOutput.Episode>(), e => e.Key.Kind is FindingKind.PressureStep or FindingKind.SensorDrifts);
        Assert.Equal(2, _outputs.OfType<LaneOutput.LoadBegan>().Count());
    }

    [Fact]
    public void Once_a_second_reading_agreed_a_step_is_the_sensors()
    {
        Drive(130, 450);
        Assert.True(_lane.State.Payload.Readings >= 2);
        var load = _lane.State.Payload.State[0];
        Drive(400, 250);
        Assert.Equal(load, _lane.State.Payload.State[0]);
        Assert.Contains(_outputs.OfType<LaneOutput.Episode>(), e => e.Key.Kind == FindingKind.PressureStep);
    }

    private void Drive(int seconds, double kilopascals)
    {
        for (var end = _second + seconds; _second < end; _second++)
        {
            var at = new Moment(1_772_432_045_000 + _second * 1000L);
            _lane.Step(0, new Reading(at, ReadingKind.Pressure, 0, kilopascals + _random.Normal(3)), _outputs);
            _lane.Step(0, new Reading(at, ReadingKind.Pressure, 1, kilopascals + _random.Normal(3)), _outputs);
            _lane.Step(0, new Reading(at, ReadingKind.Position, (ushort)PositionKey.Speed, 20), _outputs);
        }
    }
}
