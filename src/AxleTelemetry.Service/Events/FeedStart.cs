using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Serving;

namespace AxleTelemetry.Service.Events;

/// <summary>From where a listener is told, and what it is to know first.</summary>
/// <param name="From">Everything after these positions is told.</param>
/// <param name="Gap">What may be missing, in a sentence; <c>null</c> where nothing is.</param>
internal sealed record FeedStart(Positions From, string? Gap)
{
    /// <summary>A row of history that was taken back is kept for listeners no longer than this.</summary>
    private const double TakenBackSeconds = 600;

    /// <summary>Where to begin for a listener that states the id of the last event it has seen.</summary>
    /// <param name="last">That id; <c>null</c> for a new listener, who is told what comes from now on.</param>
    /// <param name="desks">The shards.</param>
    /// <param name="now">Now.</param>
    /// <param name="keptDays">How long what was told is kept.</param>
    public static FeedStart Of(string? last, Desks desks, Moment now, int keptDays)
    {
        var head = desks.All.Aggregate(Positions.None, (all, d) => all.With(d.Name, d.Committed));
        if (string.IsNullOrEmpty(last)) return new(head, null);
        if (EventId.Parse(last) is not { } id) return new(head, "The id of the last event cannot be read: what came before now is not told.");
        var from = Positions.None;
        var gap = Missing(id, now, keptDays);
        foreach (var (shard, committed) in head.ByShard)
        {
            var known = id.Positions.ByShard.TryGetValue(shard, out var position);
            if (!known || position > committed) gap = $"The shard '{shard}' has another log than the id of the last event speaks of: what came in it before now is not told.";
            from = from.With(shard, known && position <= committed ? position : committed);
        }

        return new(from, gap);
    }

    private static string? Missing(EventId id, Moment now, int keptDays)
    {
        var away = now.UnixMilliseconds / 1000 - id.SentAtSeconds;
        if (away > keptDays * 86_400.0) return "The last event is older than what is kept: alerts may be missing. Read the register.";
        return away > TakenBackSeconds ? "Loads and episodes that were taken back meanwhile may be missing: read again what you show. No alert is." : null;
    }
}
