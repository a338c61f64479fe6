using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Telling;

/// <summary>One change of an alert. Append-only; identified by alert and number.</summary>
public sealed record AlertChange
{
    /// <summary>Which alert.</summary>
    public required AlertId Id { get; init; }

    /// <summary>Number within the alert, from 1 without gaps.</summary>
    public required int Number { get; init; }

    /// <summary>When it became known.</summary>
    public required Moment At { get; init; }

    /// <summary>The input that caused it.</summary>
    public required LogPosition Position { get; init; }

    /// <summary>What happened.</summary>
    public required AlertCause Cause { get; init; }

    /// <summary>State after it.</summary>
    public required AlertState State { get; init; }

    /// <summary>Priority after it.</summary>
    public required AlertPriority Priority { get; init; }

    /// <summary>True where people are to be called: the only changes that count as alarms.</summary>
    public required bool Rings { get; init; }

    /// <summary>Highest level among what holds; of what held last where nothing does.</summary>
    public required Level Level { get; init; }

    /// <summary>How often it began.</summary>
    public required int Count { get; init; }

    /// <summary>What else is told with it.</summary>
    public required ImmutableArray<AlertSubject> With { get; init; }

    /// <summary>By how much a limit is passed; <c>null</c> for what has no limit.</summary>
    public required AlertFigures? Figures { get; init; }

    /// <summary>The input that holds the finding behind it in full.</summary>
    public required LogPosition Source { get; init; }

    /// <summary>The finding itself where this very change comes from one, to be said in full with its remedy.</summary>
    public LaneOutput.Episode? Episode { get; init; }
}

/// <summary>What happened to an alert.</summary>
public abstract record AlertCause
{
    private AlertCause() { }

    /// <summary>It began.</summary>
    public sealed record Began : AlertCause;

    /// <summary>It became known after it was over.</summary>
    public sealed record ListedLate : AlertCause;

    /// <summary>It came again soon after it ended, or while it was put aside.</summary>
    public sealed record Repeated : AlertCause;

    /// <summary>Something else is told with it from now on.</summary>
    public sealed record Joined(AlertSubject Subject) : AlertCause;

    /// <summary>It became surer.</summary>
    public sealed record Rose : AlertCause;

    /// <summary>It became less sure.</summary>
    public sealed record Fell : AlertCause;

    /// <summary>A part of it ended, the rest holds.</summary>
    public sealed record Eased(AlertSubject Subject) : AlertCause;

    /// <summary>It returned to normal.</summary>
    public sealed record Returned : AlertCause;

    /// <summary>An old beginning still holds after its backlog was taken.</summary>
    public sealed record HoldsStill : AlertCause;

    /// <summary>A person did something.</summary>
    public sealed record Acted(OperatorAction Action) : AlertCause;

    /// <summary>It reached somebody.</summary>
    public sealed record Reached(Contact.Reached Contact) : AlertCause;

    /// <summary>It was given up on the way to somebody.</summary>
    public sealed record NotReached(Contact.GivenUp Contact) : AlertCause;

    /// <summary>Its shelf came to its end.</summary>
    public sealed record ShelfEnded : AlertCause;

    /// <summary>Nobody acknowledged it in time.</summary>
    public sealed record Escalated : AlertCause;

    /// <summary>A correction of the history took it away.</summary>
    public sealed record Corrected : AlertCause;

    /// <summary>A correction of the history changed it: other times, another level, back again.</summary>
    public sealed record Restated : AlertCause;

    /// <summary>Too many were open on one vehicle; this, the oldest, was given up.</summary>
    public sealed record GivenUp : AlertCause;
}
