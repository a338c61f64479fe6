using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Tests.Estimation;
using AxleTelemetry.Domain.Tests.Limits;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Domain.Tests.Findings;

public sealed class ToldTogetherTests
{
    private readonly List<LaneOutput> _outputs = [];
    private readonly Lane _lane;

    public ToldTogetherTests()
    {
        var combination = Fleet.Couple(Fleet.Example("rigid-6x2-tag.json"));
        _lane = new Lane(LaneSetup.FromHandbook(combination, c => MarginTable.For(combination, c, LimitFleet.Directive, LimitContext.Undeclared)));
        var random = new SeededRandom(5);
        _lane.Step(0, new Reading(At(0), ReadingKind.Lift, 2, (double)LiftReport.Raised), _outputs);
        for (var s = 0; s < 900; s++)
        {
            _lane.Step(0, new Reading(At(s), ReadingKind.Pressure, 0, 950 + random.Normal(3)), _outputs);
            _lane.Step(0, new Reading(At(s), ReadingKind.Position, (ushort)PositionKey.Speed, 20), _outputs);
        }
    }

    [Fact]
    public void One_load_too_many_is_told_once_with_the_gravest_limit_first()
    {
        var opened = Overloads().ToArray();
        Assert.True(opened.Length > 1, "several limits were passed at once");
        var lead = Assert.Single(opened, e => e.ToldWith is null);
        Assert.Equal(MarginKind.Axle, lead.Key.Margin.Kind);
        Assert.Equal(opened.Length - 1, lead.Also.Length);
        Assert.All(opened.Where(e => e != lead), e => Assert.Equal(lead.Key, e.ToldWith));
    }

    [Fact]
    public void The_sentence_names_the_others_before_what_ends_them_all()
    {
        var lead = Overloads().Single(e => e.ToldWith is null);
        var sentence = new Sentences(_lane.Setup.Combination).Of(lead);
        Assert.Matches(@"^Axle 2 \(drive\): .* over 11\.5 t \(sure\)\. Also over: .*the rating of axle 2 \(drive\).*\. Lower axle 3 \(tag\)", sentence);
    }

    private static Moment At(int second) => new(1_772_432_045_000 + second * 1000L);

    private IEnumerable<LaneOutput.Episode> Overloads() => _outputs.OfType<LaneOutput.Episode>()
        .Where(e => e is { Change: EpisodeChange.Opened, Key.Kind: FindingKind.Overload, Level: Level.Surely });
}
