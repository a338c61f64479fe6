using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Tests.Estimation;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Limits;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>A switch that says 'raised' against bellows that hold pressure: road noise decides, and what was believed before is asked anew.</summary>
public sealed class LiftSwitchTests
{
    private const int Drive = 0, Tag = 1, TagAxle = 2;

    private readonly Lane _lane = new(Setup());
    private readonly List<LaneOutput> _outputs = [];
    private readonly SeededRandom _random = new(7);
    private long _at = 1_772_432_045_000;

    [Theory]
    [InlineData(1.6, true)]
    [InlineData(0.6, false)]
    public void Noise_of_half_the_neighbours_is_needed(double tagNoise, bool disputed)
    {
        Say(LiftReport.Raised);
        Roll(120, 2, tagNoise);
        Assert.Equal(disputed, Disputes().Any());
        Assert.Equal(disputed ? AxleState.Loaded : AxleState.Raised, _lane.Configuration[TagAxle]);
    }

    [Fact]
    public void Noise_of_less_than_a_minute_is_not_enough()
    {
        Say(LiftReport.Raised);
        Roll(45, 2, 2);
        Roll(120, 2, 0);
        Assert.Empty(Disputes());
    }

    [Fact]
    public void What_settled_while_the_switch_was_believed_is_asked_anew()
    {
        Say(LiftReport.Raised);
        // A road so smooth that the drive bellows hardly feel it: nothing to compare with, but enough to settle.
        Roll(300, 0.1, 0.5);
        Assert.True(_lane.State.Payload.Readings > 2, "settled with the tag believed to be up");
        _outputs.Clear();
        Roll(300, 2, 2);
        Assert.Single(Disputes());
        Assert.Contains(_outputs, o => o is LaneOutput.LoadBegan);
        Assert.True(_lane.State.Payload.Readings > 2, "settled again");
    }

    [Fact]
    public void The_switch_is_believed_again_once_it_changes()
    {
        Say(LiftReport.Raised);
        Roll(120, 2, 2);
        Say(LiftReport.Lowered);
        Assert.Equal(EpisodeChange.Closed, Disputes().Last().Change);
        Say(LiftReport.Raised);
        Assert.Equal(AxleState.Raised, _lane.Configuration[TagAxle]);
    }

    private IEnumerable<LaneOutput.Episode> Disputes() =>
        _outputs.OfType<LaneOutput.Episode>().Where(e => e.Key.Kind == FindingKind.LiftDisputed);

    private void Say(LiftReport report) => Step(ReadingKind.Lift, TagAxle, (double)report);

    private void Roll(int seconds, double driveNoise, double tagNoise)
    {
        for (var s = 0; s < seconds; s++, _at += 1000)
        {
            Step(ReadingKind.Pressure, Drive, 400 + _random.Normal(driveNoise));
            Step(ReadingKind.Pressure, Tag, 350 + _random.Normal(tagNoise));
            Step(ReadingKind.Position, (ushort)PositionKey.Heading, 87);
            Step(ReadingKind.Position, (ushort)PositionKey.Speed, 20);
        }
    }

    private void Step(ReadingKind kind, ushort key, double value) => _lane.Step(0, new Reading(new Moment(_at), kind, key, value), _outputs);

    private static LaneSetup Setup()
    {
        var combination = Fleet.Couple(Fleet.Example("rigid-6x2-tag.json"));
        var law = ((LimitSetResult.Parsed)LimitSetFile.Shipped(LimitSetFile.Directive)).Set;
        return LaneSetup.FromHandbook(combination, c => MarginTable.For(combination, c, law, LimitContext.Undeclared));
    }
}
