using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Telling;

namespace AxleTelemetry.Domain.Histories;

/// <summary>
/// Episodes as history holds them, for telling. Takes their rows one revision after another, since the last one of a row does
/// not say how sure it was when it opened, nor before it ended.
/// </summary>
internal sealed class EpisodesInForce
{
    private readonly SortedDictionary<RowKey, Course> _courses = [];

    /// <summary>Takes the next revision of a row.</summary>
    public void Take(HistoryRow.Episode row)
    {
        var course = _courses.TryGetValue(row.Key, out var before) ? before with { Row = row } : new Course(row, row.Level, row.Level);
        _courses[row.Key] = row.ClosedAt is null ? course with { Last = row.Level } : course;
    }

    /// <summary>All of them in the order they began. Limits of one kind that were passed at one moment, equally sure, are told with the gravest.</summary>
    public ImmutableArray<EpisodeInForce> All() =>
        [.. _courses.Values.GroupBy(c => (c.Row.Key.Finding.Kind, c.Row.OpenedAt, c.Opened, c.Row.Subject is EpisodeSubject.Limit)).SelectMany(Together).OrderBy(e => e.Since)];

    private static IEnumerable<EpisodeInForce> Together(IEnumerable<Course> opened)
    {
        FindingKey? lead = null;
        foreach (var course in opened.OrderBy(c => Gravity(c.Row)))
        {
            yield return Of(course, course.Row.Subject is EpisodeSubject.Limit ? lead : null);
            lead ??= course.Row.Key.Finding;
        }
    }

    /// <summary>Law before a maker's word before a rule of the house; then what is passed by the greatest part; then the order of limits.</summary>
    private static (MarginStanding, double, MarginKey) Gravity(HistoryRow.Episode row)
    {
        if (row.Subject is not EpisodeSubject.Limit limit) return (MarginStanding.Law, 0, row.Key.Finding.Margin);
        var part = limit.Opening.Mean > 0 ? limit.Opening.Mean / Math.Max(limit.Scale, 1) : 0;
        return (limit.Standing, -part, row.Key.Finding.Margin);
    }

    private static EpisodeInForce Of(Course course, FindingKey? toldWith) => new(
        course.Row.Key.Finding, course.Row.Key.At, course.Row.ClosedAt, course.Last, course.Row.Reached,
        course.Row.Subject is EpisodeSubject.Limit limit ? limit.Standing : MarginStanding.Law, toldWith);

    private readonly record struct Course(HistoryRow.Episode Row, Level Opened, Level Last);
}
