using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Sharding;

namespace AxleTelemetry.Service.Watching;

/// <summary>What a watch came to, over all vehicles.</summary>
internal sealed record WatchSummary
{
    /// <summary>Messages received, of whatever kind.</summary>
    public required long Messages { get; init; }

    /// <summary>Readings taken out of them.</summary>
    public required long Readings { get; init; }

    /// <summary>Readings that count, in time or late.</summary>
    public required long Taken { get; init; }

    /// <summary>Of those taken, late: put in their place, and what follows them looked at again.</summary>
    public required long Late { get; init; }

    /// <summary>What was not taken, by its name; only what occurred.</summary>
    public required ImmutableArray<(string What, long Count)> NotTaken { get; init; }

    /// <summary>Refusals by reason.</summary>
    public required ImmutableArray<(string Reason, long Count)> Refusals { get; init; }

    /// <summary>Episodes that opened, by kind.</summary>
    public required ImmutableArray<(FindingKind Kind, long Count)> Episodes { get; init; }

    /// <summary>Combinations as they stand at the end.</summary>
    public required ImmutableArray<VehicleState> Units { get; init; }

    /// <summary>Combinations whose lane stopped by a fault of ours, and why.</summary>
    public IEnumerable<(VehicleName Unit, string Why)> Stopped => Units.Where(u => u.StoppedBy is not null).Select(u => (u.Name, u.StoppedBy!));

    /// <summary>Adds up.</summary>
    public static WatchSummary Of(Shard shard, IReadOnlyDictionary<FindingKind, long> episodes)
    {
        var state = shard.State;
        ImmutableArray<VehicleState> vehicles = [.. state.AllFollowed.Select(v => state.Find(v.Name)).OfType<VehicleState>()];
        return new WatchSummary
        {
            Messages = shard.Messages,
            Readings = vehicles.Sum(v => v.Counts.Readings),
            Taken = vehicles.Sum(v => v.Readings.Taken),
            Late = vehicles.Sum(v => v.Readings.Late),
            NotTaken =
            [
                .. new (string What, long Count)[]
                {
                    ("sent again", vehicles.Sum(v => v.Readings.Repeated)),
                    ("sent again with another value", vehicles.Sum(v => v.Readings.Conflicting)),
                    ("too late", vehicles.Sum(v => v.Readings.TooLate)),
                    ("messages missing by their seq", vehicles.Sum(v => v.Counts.Gaps)),
                }.Where(c => c.Count > 0),
            ],
            Refusals = RefusalsOf(state),
            Episodes = [.. episodes.Select(e => (e.Key, e.Value))],
            Units = [.. state.History.Units.Select(state.Find).OfType<VehicleState>()],
        };
    }

    private static ImmutableArray<(string Reason, long Count)> RefusalsOf(ShardState state)
    {
        var sums = new SortedDictionary<string, long>(StringComparer.Ordinal);
        ImmutableArray<VehicleRefusals> refused = [.. state.Refusals.All().Select(r => r.Refusals), state.Refusals.OfOthers()];
        foreach (var (reason, count) in refused.SelectMany(r => r.Counts))
            sums[RefusalWords.Of(reason)] = sums.GetValueOrDefault(RefusalWords.Of(reason)) + count;
        if (state.Unknown.Messages > 0) sums["unknown vehicle"] = state.Unknown.Messages;
        return [.. sums.Select(s => (s.Key, s.Value))];
    }
}
