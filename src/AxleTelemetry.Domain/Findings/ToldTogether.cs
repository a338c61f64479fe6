using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;

namespace AxleTelemetry.Domain.Findings;

/// <summary>
/// One load too many passes several limits at once: the axle's, its rating, its group's, the gross. Each has its own episode
/// in the history; people are told once, of the gravest, with the others named beside it.
/// </summary>
internal static class ToldTogether
{
    /// <summary>Arranges what one judgement has said: outputs from an index on.</summary>
    public static void Arrange(List<LaneOutput> outputs, int from)
    {
        // Apart, so that a judgement that says nothing allocates nothing.
        if (outputs.Count - from >= 2) ArrangeSeveral(outputs, from);
    }

    private static void ArrangeSeveral(List<LaneOutput> outputs, int from)
    {
        foreach (var group in Enumerable.Range(from, outputs.Count - from).Where(i => Verdict(outputs[i]) is not null).GroupBy(i => Kind(outputs[i])).ToArray())
        {
            var members = group.OrderBy(i => Gravity(outputs[i])).ToArray();
            if (members.Length < 2) continue;
            var lead = Key(outputs[members[0]]);
            outputs[members[0]] = Lead(outputs[members[0]], [.. members.Skip(1).Select(i => Verdict(outputs[i])!.Value)]);
            foreach (var i in members.Skip(1)) outputs[i] = Follow(outputs[i], lead);
        }
    }

    /// <summary>What is told together: the same change, equally sure, of the same kind of finding.</summary>
    private static (Type, FindingKind, EpisodeChange, Level) Kind(LaneOutput output) => output switch
    {
        LaneOutput.Episode e => (typeof(LaneOutput.Episode), e.Key.Kind, e.Change, e.Level),
        LaneOutput.Provisional p => (typeof(LaneOutput.Provisional), p.Key.Kind, EpisodeChange.None, p.Level),
        _ => throw new ArgumentOutOfRangeException(nameof(output), output, "Not told of a limit."),
    };

    private static Verdict? Verdict(LaneOutput output) => output switch
    {
        LaneOutput.Episode { Detail: FindingDetail.Excess excess } => excess.Verdict,
        LaneOutput.Provisional provisional => provisional.Detail.Verdict,
        _ => null,
    };

    private static FindingKey Key(LaneOutput output) => output switch
    {
        LaneOutput.Episode e => e.Key,
        LaneOutput.Provisional p => p.Key,
        _ => throw new ArgumentOutOfRangeException(nameof(output), output, "Not told of a limit."),
    };

    /// <summary>Law before a maker's word before a rule of the house; then what is passed by the greatest part; then the order of limits.</summary>
    private static (MarginStanding, double, MarginKey) Gravity(LaneOutput output)
    {
        var verdict = Verdict(output)!.Value;
        // What has ended has no greatest part: then the order of limits alone, axles first.
        var part = verdict.Excess.Mean > 0 ? verdict.Excess.Mean / Math.Max(verdict.Scale, 1) : 0;
        return (verdict.Margin.Standing, -part, verdict.Margin.Key);
    }

    private static LaneOutput Lead(LaneOutput output, ImmutableArray<Verdict> also) => output switch
    {
        LaneOutput.Episode e => e with { Also = also },
        LaneOutput.Provisional p => p with { Also = also },
        _ => throw new ArgumentOutOfRangeException(nameof(output), output, "Not told of a limit."),
    };

    private static LaneOutput Follow(LaneOutput output, FindingKey lead) => output switch
    {
        LaneOutput.Episode e => e with { ToldWith = lead },
        LaneOutput.Provisional p => p with { ToldWith = lead },
        _ => throw new ArgumentOutOfRangeException(nameof(output), output, "Not told of a limit."),
    };
}
