using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Tests.Estimation;
using AxleTelemetry.Messages.Limits;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>A lane's state is plain numbers: copied it goes on alike, bit by bit, and nothing is allocated while nothing is said.</summary>
public sealed class LaneStateTests
{
    private readonly LaneSetup _setup = Setup();

    [Fact]
    public void A_copied_state_goes_on_alike_bit_by_bit()
    {
        var readings = Drive(new SeededRandom(3), 3600).ToList();
        Lane whole = new(_setup), half = new(_setup), copy = new(_setup);
        var outputs = new List<LaneOutput>();
        foreach (var (body, reading) in readings) whole.Step(body, reading, outputs);
        foreach (var (body, reading) in readings.Take(readings.Count / 2)) half.Step(body, reading, []);
        copy.State.CopyFrom(half.State);
        Assert.True(copy.State.SameBits(half.State));
        var rest = new List<LaneOutput>();
        foreach (var (body, reading) in readings.Skip(readings.Count / 2)) copy.Step(body, reading, rest);
        Assert.True(copy.State.SameBits(whole.State));
        Assert.False(copy.State.SameBits(half.State));
        Assert.True(whole.State.Payload.Readings > 30, "the drive was settled");
    }

    [Fact]
    public void Nothing_is_allocated_while_nothing_is_said()
    {
        var lane = new Lane(_setup);
        var outputs = new List<LaneOutput>();
        var readings = Drive(new SeededRandom(4), 2 * 3600).ToArray();
        // The first hour tells what there is to tell, and warms every path.
        foreach (var (body, reading) in readings.AsSpan(0, readings.Length / 2)) lane.Step(body, reading, outputs);
        outputs.Clear();
        var settled = lane.State.Payload.Readings;
        long allocated = 0;
        foreach (var (body, reading) in readings.AsSpan(readings.Length / 2))
        {
            var (said, before) = (outputs.Count, GC.GetAllocatedBytesForCurrentThread());
            lane.Step(body, reading, outputs);
            // Every ten minutes the account is handed out, and that is something said.
            if (outputs.Count == said) allocated += GC.GetAllocatedBytesForCurrentThread() - before;
        }

        Assert.All(outputs, o => Assert.IsType<LaneOutput.Accounted>(o));
        Assert.Equal(6, outputs.Count);
        Assert.True(lane.State.Payload.Readings > settled + 30, "the second hour was settled too");
        Assert.Equal(0, allocated);
    }

    private static LaneSetup Setup()
    {
        var combination = Fleet.Couple(Fleet.Example("tractor-4x2.json"), Fleet.Example("semi-tridem-lift-first.json"));
        var law = ((LimitSetResult.Parsed)LimitSetFile.Shipped(LimitSetFile.Directive)).Set;
        return LaneSetup.FromHandbook(combination, c => MarginTable.For(combination, c, law, LimitContext.Undeclared));
    }

    private static IEnumerable<(int Body, Reading Reading)> Drive(SeededRandom random, int seconds)
    {
        for (var s = 0; s < seconds; s++)
        {
            var at = new Moment(1_772_432_045_000 + s * 1000L);
            yield return (0, new Reading(at, ReadingKind.Pressure, 0, 340 + random.Normal(3)));
            yield return (1, new Reading(at, ReadingKind.Pressure, 0, 300 + random.Normal(3)));
            yield return (0, new Reading(at, ReadingKind.Position, (ushort)PositionKey.Altitude, 300));
            yield return (0, new Reading(at, ReadingKind.Position, (ushort)PositionKey.Heading, 87));
            yield return (0, new Reading(at, ReadingKind.Position, (ushort)PositionKey.Speed, 22 + random.Normal(0.05)));
        }
    }
}
