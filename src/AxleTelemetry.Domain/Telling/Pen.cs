using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Telling;

/// <summary>Writes down the changes that one input causes, numbered.</summary>
internal sealed class Pen(AlertSettings settings, LogPosition position, Moment at)
{
    private readonly List<AlertChange> _changes = [];

    public AlertSettings Settings => settings;

    public Moment At => at;

    public LogPosition Position => position;

    public ImmutableArray<AlertChange> Changes => [.. _changes];

    /// <summary>Writes a change of an alert and returns it with its new number.</summary>
    public Alert Write(Alert alert, AlertCause cause, bool rings = false, LaneOutput.Episode? episode = null)
    {
        var written = alert with { Changes = alert.Changes + 1 };
        if (rings) written = written with { ToldAs = written.IsNews ? written.Priority : written.ToldAs, WaitingSince = at, Escalated = cause is AlertCause.Escalated };
        _changes.Add(new AlertChange
        {
            Id = written.Id,
            Number = written.Changes,
            At = at,
            Position = position,
            Cause = cause,
            State = written.State,
            Priority = written.Priority,
            Rings = rings,
            Level = LevelOf(written),
            Count = written.Count,
            With = [.. written.Episodes.Where(e => !e.Void && e.Subject != written.Id.Subject).Select(e => e.Subject).Distinct().Order()],
            Figures = written.Figures,
            Source = written.Source,
            Episode = episode,
        });
        return written;
    }

    private static Level LevelOf(Alert alert)
    {
        var holding = alert.Episodes.Where(e => e.Holds).ToArray();
        return holding.Length > 0 ? holding.Max(e => e.Level) : alert.Episodes[^1].Level;
    }
}
