using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Tests.Estimation;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>What is no longer reported does not keep the settled gate shut for ever.</summary>
public sealed class StaleMotionTests
{
    private readonly Lane _lane = new(Setup());
    private readonly SeededRandom _random = new(11);
    private int _second;

    [Fact]
    public void A_hill_whose_altitudes_ended_is_left_behind()
    {
        Roll(120, s => (PositionKey.Altitude, 300 + 0.05 * 20 * s));
        Assert.Equal(0, _lane.State.Payload.Readings);
        Roll(30, _ => null);
        Assert.Equal(0, _lane.State.Payload.Readings);
        Roll(240, _ => null);
        Assert.True(_lane.State.Payload.Readings >= 2);
    }

    [Fact]
    public void A_bend_in_which_headings_ended_is_left_behind()
    {
        Roll(60, s => (PositionKey.Heading, 5.0 * s % 360));
        Roll(240, _ => null);
        Assert.True(_lane.State.Payload.Readings >= 2);
    }

    private void Roll(int seconds, Func<int, (PositionKey Key, double Value)?> report)
    {
        for (var s = 0; s < seconds; s++, _second++)
        {
            Step(ReadingKind.Pressure, 0, 340 + _random.Normal(3));
            Step(ReadingKind.Pressure, 1, 300 + _random.Normal(3));
            if (report(_second) is { } said) Step(ReadingKind.Position, (ushort)said.Key, said.Value);
            Step(ReadingKind.Position, (ushort)PositionKey.Speed, 20);
        }
    }

    private void Step(ReadingKind kind, ushort key, double value) =>
        _lane.Step(0, new Reading(new Moment(1_772_432_045_000 + _second * 1000L), kind, key, value), []);

    private static LaneSetup Setup()
    {
        var combination = Fleet.Couple(Fleet.Example("rigid-6x2-tag.json"));
        return LaneSetup.FromHandbook(combination, c => MarginTable.For(combination, c, Repository.Limits, LimitContext.Undeclared));
    }
}
