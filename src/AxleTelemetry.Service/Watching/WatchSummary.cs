using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Fleet;

namespace AxleTelemetry.Service.Watching;

/// <summary>What a watch came to, over all vehicles.</summary>
internal sealed record WatchSummary
{
    /// <summary>Messages received, of whatever kind.</summary>
    public required long Messages { get; init; }

    /// <summary>Readings taken out of them.</summary>
    public required long Readings { get; init; }

    /// <summary>Readings that a lane took.</summary>
    public required long Stepped { get; init; }

    /// <summary>What was not taken, by its name; only what occurred.</summary>
    public required ImmutableArray<(string What, long Count)> NotTaken { get; init; }

    /// <summary>Refusals by reason.</summary>
    public required ImmutableArray<(string Reason, long Count)> Refusals { get; init; }

    /// <summary>Episodes that opened, by kind.</summary>
    public required ImmutableArray<(FindingKind Kind, long Count)> Episodes { get; init; }

    /// <summary>Adds up.</summary>
    public static WatchSummary Of(FleetLanes lanes, IReadOnlyDictionary<FindingKind, long> episodes)
    {
        ImmutableArray<VehicleCounts> counts = [.. lanes.Units.Select(u => u.Counts), .. lanes.Trailers.Select(t => t.Counts)];
        return new WatchSummary
        {
            Messages = lanes.Messages,
            Readings = counts.Sum(c => c.Readings),
            Stepped = counts.Sum(c => c.Stepped),
            NotTaken =
            [
                .. new (string What, long Count)[]
                {
                    ("late", counts.Sum(c => c.Late)),
                    ("sent again", counts.Sum(c => c.Repeated)),
                    ("sent again with another value", counts.Sum(c => c.Conflicting)),
                    ("not coupled", counts.Sum(c => c.NotCoupled)),
                    ("lost to a fault", counts.Sum(c => c.Unstepped)),
                    ("messages missing by their seq", counts.Sum(c => c.Gaps)),
                }.Where(c => c.Count > 0),
            ],
            Refusals = RefusalsOf(lanes, counts),
            Episodes = [.. episodes.Select(e => (e.Key, e.Value))],
        };
    }

    private static ImmutableArray<(string Reason, long Count)> RefusalsOf(FleetLanes lanes, ImmutableArray<VehicleCounts> counts)
    {
        var sums = new SortedDictionary<string, long>(StringComparer.Ordinal);
        ImmutableArray<VehicleRefusals> refused = [.. lanes.Refusals.All().Select(r => r.Refusals), lanes.Refusals.OfOthers()];
        foreach (var (reason, count) in refused.SelectMany(r => r.Counts))
            sums[RefusalWords.Of(reason)] = sums.GetValueOrDefault(RefusalWords.Of(reason)) + count;
        if (lanes.Unknown.Messages > 0) sums["unknown vehicle"] = lanes.Unknown.Messages;
        if (counts.Sum(c => c.CouplingsRefused) is > 0 and var couplings) sums["impossible coupling"] = couplings;
        return [.. sums.Select(s => (s.Key, s.Value))];
    }
}
