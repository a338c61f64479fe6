using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Telling;

namespace AxleTelemetry.Domain.Histories;

/// <summary>Episodes as history holds them, for telling: limits of one kind that were passed at one moment are told with the gravest.</summary>
internal static class EpisodesInForce
{
    public static ImmutableArray<EpisodeInForce> Of(IEnumerable<HistoryRow.Episode> rows) =>
        [.. rows.GroupBy(r => (r.Key.Finding.Kind, r.OpenedAt, r.Subject is EpisodeSubject.Limit)).SelectMany(Together).OrderBy(e => e.Since)];

    private static IEnumerable<EpisodeInForce> Together(IEnumerable<HistoryRow.Episode> opened)
    {
        FindingKey? lead = null;
        foreach (var row in opened.OrderBy(Gravity))
        {
            yield return Of(row, row.Subject is EpisodeSubject.Limit ? lead : null);
            lead ??= row.Key.Finding;
        }
    }

    /// <summary>Law before a maker's word before a rule of the house; then what is passed by the greatest part; then the order of limits.</summary>
    private static (MarginStanding, double, MarginKey) Gravity(HistoryRow.Episode row)
    {
        if (row.Subject is not EpisodeSubject.Limit limit) return (MarginStanding.Law, 0, row.Key.Finding.Margin);
        var part = limit.Opening.Mean > 0 ? limit.Opening.Mean / Math.Max(limit.Scale, 1) : 0;
        return (limit.Standing, -part, row.Key.Finding.Margin);
    }

    private static EpisodeInForce Of(HistoryRow.Episode row, FindingKey? toldWith) => new(
        row.Key.Finding, row.Key.At, row.ClosedAt, row.ClosedAt is null ? row.Level : row.Reached, row.Reached,
        row.Subject is EpisodeSubject.Limit limit ? limit.Standing : MarginStanding.Law, toldWith);
}
