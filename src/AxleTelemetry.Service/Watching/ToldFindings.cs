using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;

namespace AxleTelemetry.Service.Watching;

/// <summary>
/// What was last told of each finding of a vehicle. A second run of history says what is in force; what differs from what was
/// told is to be told. A beginning that moved by some readings is no news.
/// </summary>
internal sealed class ToldFindings
{
    private readonly Dictionary<VehicleName, Dictionary<FindingKey, EpisodeInForce>> _told = [];

    /// <summary>A lane said it.</summary>
    public void Take(VehicleName vehicle, LaneOutput.Episode said) => Of(vehicle)[said.Key] = new EpisodeInForce(
        said.Key, said.Since, said.Change == EpisodeChange.Closed ? said.At : null, said.Level, said.Level, default, said.ToldWith);

    /// <summary>A second run from a moment on is done: what is to be told of it.</summary>
    public IEnumerable<(EpisodeInForce Finding, Revision Change)> Take(Correction done)
    {
        var told = Of(done.Unit);
        var latest = done.InForce.GroupBy(e => e.Key).ToDictionary(g => g.Key, g => g.MaxBy(e => e.Since)!);
        List<(EpisodeInForce, Revision)> news = [];
        foreach (var (key, known) in told.Where(t => !latest.ContainsKey(t.Key) && Touches(t.Value, done.From)).ToList())
        {
            told.Remove(key);
            news.Add((known, Revision.Withdrawn));
        }

        foreach (var (key, now) in latest.OrderBy(l => l.Value.Since))
        {
            if (Differs(told.GetValueOrDefault(key), now) is { } change) news.Add((now, change));
            told[key] = now;
        }

        return news;
    }

    private static Revision? Differs(EpisodeInForce? told, EpisodeInForce now) => (told, now.Ended) switch
    {
        (null, null) => Revision.Found,
        (null, _) => Revision.FoundEnded,
        ({ Ended: null }, not null) => Revision.Ended,
        // One that ended before this one began is another.
        ({ Ended: { } ended }, null) => now.Since > ended ? Revision.Found : Revision.GoesOn,
        ({ Ended: { } ended }, _) => now.Since > ended ? Revision.FoundEnded : null,
        ({ Ended: null }, null) => told.Level == now.Level ? null : Revision.Levelled,
    };

    private static bool Touches(EpisodeInForce told, Moment from) => told.Ended is not { } ended || ended >= from;

    private Dictionary<FindingKey, EpisodeInForce> Of(VehicleName vehicle)
    {
        if (!_told.TryGetValue(vehicle, out var own)) _told.Add(vehicle, own = []);
        return own;
    }
}
