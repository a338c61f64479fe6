using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Messages.Refusals;

/// <summary>A refusal and when its message was received.</summary>
public readonly record struct TimedRefusal(Moment Received, Refusal Refusal);

/// <summary>What one vehicle had refused: the counts, and the last few in words. Immutable.</summary>
public sealed record VehicleRefusals
{
    /// <summary>Nothing refused.</summary>
    public static VehicleRefusals None { get; } = new();

    private VehicleRefusals()
    {
    }

    /// <summary>The last refusals, the newest at the end; at most <see cref="RefusalCounter.RecentLimit"/>.</summary>
    public ImmutableArray<TimedRefusal> Recent { get; private init; } = [];

    /// <summary>All refusals.</summary>
    public long Total { get; private init; }

    /// <summary>How often each reason was met; a reason never met is not in it.</summary>
    public ImmutableSortedDictionary<RefusalReason, long> Counts { get; private init; } = ImmutableSortedDictionary<RefusalReason, long>.Empty;

    internal VehicleRefusals With(Moment received, RefusalLog log)
    {
        var counts = Counts.ToBuilder();
        foreach (var reason in Enum.GetValues<RefusalReason>())
        {
            if (log.Count(reason) > 0) counts[reason] = counts.GetValueOrDefault(reason) + log.Count(reason);
        }

        var recent = Recent.AddRange(log.Details.Select(refusal => new TimedRefusal(received, refusal)));
        return this with
        {
            Counts = counts.ToImmutable(),
            Total = Total + log.Total,
            Recent = recent.RemoveRange(0, Math.Max(0, recent.Length - RefusalCounter.RecentLimit)),
        };
    }
}
