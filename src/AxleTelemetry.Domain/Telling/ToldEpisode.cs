using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Telling;

/// <summary>An episode as its alert knows it.</summary>
/// <param name="Subject">What holds.</param>
/// <param name="Since">When it began, event time.</param>
/// <param name="Level">Level it has, or had last.</param>
/// <param name="Highest">Highest level it reached.</param>
/// <param name="Standing">Gravest standing of its limit; a law where there is none.</param>
/// <param name="Ended">When it ended, event time; <c>null</c> while it holds.</param>
public sealed record ToldEpisode(AlertSubject Subject, Moment Since, Level Level, Level Highest, MarginStanding Standing, Moment? Ended)
{
    /// <summary>True where somebody has stated what was done about it.</summary>
    public bool Stated { get; init; }

    /// <summary>True where a correction of the history took it away. It is remembered, so that it is not told again when it comes back.</summary>
    public bool Void { get; init; }

    /// <summary>True while it holds.</summary>
    public bool Holds => Ended is null && !Void;

    /// <summary>True where somebody owes a statement of what was done.</summary>
    public bool Owes => !Void && !Stated && AlertPolicy.Obliges(Subject, Standing, Highest);

    /// <summary>Its priority; low where it would be a standing note by now.</summary>
    public AlertPriority Priority => AlertPolicy.PriorityOf(Subject, Standing, Level) ?? AlertPriority.Low;

    /// <summary>True for the same episode.</summary>
    public bool Is(AlertSubject subject, Moment since) => Subject == subject && Since == since;

    /// <summary>True where two intervals of the same thing have a moment in common.</summary>
    internal bool Overlaps(ToldEpisode other) =>
        Subject == other.Subject && (Ended is not { } mine || other.Since <= mine) && (other.Ended is not { } theirs || Since <= theirs);
}
