using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>A driver who says why an axle stands as it does is not told that it costs; the account is.</summary>
public sealed class StatedReasonTests
{
    private const int Tag = 2;
    private const long Start = 1_772_432_045_000;

    [Fact]
    public void What_is_not_told_is_counted_all_the_same()
    {
        var (told, without) = Play("lift tag lowered");
        var (excused, with) = Play("lift tag lowered for workshop");
        Assert.Contains(told, e => e.Key.Kind == FindingKind.LoweredForNothing);
        Assert.DoesNotContain(excused, e => e.Key.Kind == FindingKind.LoweredForNothing);
        Assert.True(without.Axles[Tag].LoweredForNothing.TyreJoules > 0);
        Assert.Equal(without.Axles[Tag].LoweredForNothing, with.Axles[Tag].LoweredForNothing);
    }

    [Fact]
    public void It_holds_until_the_axle_moves_or_none_is_said_or_a_shift_has_passed()
    {
        var axle = new AxleReport { Known = 1, Definite = LiftReport.Lowered };
        Assert.True(ReasonRule.Take(ref axle, new LiftWord(LiftReport.Lowered, LiftBy.Driver, LiftReason.Grip), Start));
        Assert.Equal(LiftReason.Grip, ReasonRule.Of(axle, Start + 12 * 3_600_000));
        Assert.Equal(LiftReason.None, ReasonRule.Of(axle, Start + 12 * 3_600_000 + 1));
        // Said again without it, in another word for the same place, or on the way: it stays.
        foreach (var report in (LiftReport[])[LiftReport.Lowered, LiftReport.Loaded, LiftReport.Unloaded, LiftReport.Moving, LiftReport.Unknown])
            Assert.False(ReasonRule.Take(ref axle, new LiftWord(report), Start + 1000));
        Assert.Equal(LiftReason.Grip, ReasonRule.Of(axle, Start + 2000));
        ReasonRule.Take(ref axle, new LiftWord(LiftReport.Raised), Start + 3000);
        Assert.Equal(LiftReason.None, ReasonRule.Of(axle, Start + 3000));

        Assert.True(ReasonRule.Take(ref axle, new LiftWord(LiftReport.Raised, LiftBy.Unsaid, LiftReason.Clearance), Start));
        Assert.False(ReasonRule.Take(ref axle, new LiftWord(LiftReport.Raised, LiftBy.Driver, LiftReason.None), Start));
        Assert.Equal(LiftReason.None, ReasonRule.Of(axle, Start));
        Assert.False(ReasonRule.Take(ref axle, new LiftWord(LiftReport.Raised, LiftBy.Automatic, LiftReason.Clearance), Start));
        Assert.Equal(LiftReason.None, ReasonRule.Of(axle, Start));
    }

    [Fact]
    public void Every_word_is_one_number_and_a_report_alone_is_its_own()
    {
        foreach (var report in Enum.GetValues<LiftReport>())
        {
            Assert.Equal((double)report, new LiftWord(report).ToValue());
            foreach (var by in Enum.GetValues<LiftBy>())
                foreach (var reason in Enum.GetValues<LiftReason>())
                    Assert.Equal(new LiftWord(report, by, reason), LiftWord.Of(new LiftWord(report, by, reason).ToValue()));
        }
    }

    private static (List<LaneOutput.Episode> Episodes, LaneOutput.Accounted Account) Play(string lift)
    {
        var text = $"""
            vehicle rigid-6x2-tag
            calibration tickets
            trip national
            seed 11

            journey
            {lift}
            load 3.5 t at 4.2 m
            stop 5 min
            drive 14 km at 70 km/h
            stop 3 min

            findings
            """;
        var script = Assert.IsType<JourneyResult.Accepted>(JourneyText.Read(text, Repository.Vehicle)).Script;
        var lane = new Lane(new LaneSetup(script.Combination, script.Fits, c => MarginTable.For(script.Combination, c, Repository.Limits, script.Trip)));
        var outputs = new List<LaneOutput>();
        foreach (var (body, reading) in JourneyReadings.Of(script, JourneyPlayer.Play(script))) lane.Step(body, reading, outputs);
        return ([.. outputs.OfType<LaneOutput.Episode>()], outputs.OfType<LaneOutput.Accounted>().Last());
    }
}
