using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Telling;

/// <summary>What people are told about an episode, and about those told with it or coming back soon after it.</summary>
public sealed record Alert
{
    /// <summary>Identity.</summary>
    public required AlertId Id { get; init; }

    /// <summary>Where it stands.</summary>
    public required AlertState State { get; init; }

    /// <summary>The episodes behind it, the leading one first.</summary>
    public required ImmutableArray<ToldEpisode> Episodes { get; init; }

    /// <summary>When it became known.</summary>
    public required Moment KnownAt { get; init; }

    /// <summary>Since when an acknowledgement has been waited for.</summary>
    public required Moment WaitingSince { get; init; }

    /// <summary>Present priority; the last one when nothing holds.</summary>
    public AlertPriority Priority { get; init; }

    /// <summary>Highest priority that people know of, because it rang or because they looked at it; <c>null</c> while nobody was called.</summary>
    public AlertPriority? ToldAs { get; init; }

    /// <summary>True where people do not know yet how urgent it is.</summary>
    internal bool IsNews => ToldAs is not { } told || Priority > told;

    /// <summary>Number of its last change; the first is 1.</summary>
    public int Changes { get; init; }

    /// <summary>How often it began; more than once where it chatters.</summary>
    public int Count { get; init; } = 1;

    /// <summary>True after it was escalated; begins again with every ring.</summary>
    public bool Escalated { get; init; }

    /// <summary>The input behind its present figures: the full finding lies there.</summary>
    public LogPosition Source { get; init; }

    /// <summary>By how much a limit is passed; <c>null</c> for what has no limit.</summary>
    public AlertFigures? Figures { get; init; }

    /// <summary>Whom it reached and whom it did not, and when.</summary>
    public ImmutableArray<Contact> Contacts { get; init; } = [];

    /// <summary>What people stated that they did.</summary>
    public ImmutableArray<Note> Notes { get; init; } = [];

    /// <summary>True while an episode behind it holds.</summary>
    public bool Holds => Episodes.Any(e => e.Holds);

    /// <summary>True where somebody still owes a statement of what was done.</summary>
    public bool Owes => Episodes.Any(e => e.Owes);

    /// <summary>True where it came back three times or more.</summary>
    public bool Chatters => Count >= AlarmRate.ChatterCount;

    /// <summary>When the last of it ended, event time; <c>null</c> while it holds.</summary>
    public Moment? Ended => Holds ? null : Episodes.Max(e => e.Ended);

    internal int IndexOf(AlertSubject subject, Moment since)
    {
        for (var i = 0; i < Episodes.Length; i++)
            if (Episodes[i].Is(subject, since)) return i;
        return -1;
    }
}

/// <summary>By how much a limit is passed.</summary>
/// <param name="Excess">Mean excess, kg; negative is room to spare.</param>
/// <param name="Sd">Its standard deviation, kg.</param>
/// <param name="Scale">The limit, kg.</param>
public readonly record struct AlertFigures(double Excess, double Sd, double Scale);

/// <summary>Somebody an alert was sent to, and what came of it.</summary>
/// <param name="Who">Person or list.</param>
/// <param name="Channel">By what way: screen, mail, webhook.</param>
/// <param name="At">When that came of it.</param>
public abstract record Contact(string Who, string Channel, Moment At)
{
    /// <summary>It reached him: the other side has taken it.</summary>
    public sealed record Reached(string Who, string Channel, Moment At) : Contact(Who, Channel, At);

    /// <summary>It did not, and is not tried any more.</summary>
    /// <param name="Who">Person or list.</param>
    /// <param name="Channel">By what way.</param>
    /// <param name="At">When it was given up.</param>
    /// <param name="Why">Why, for people.</param>
    public sealed record GivenUp(string Who, string Channel, Moment At, string Why) : Contact(Who, Channel, At);
}

/// <summary>A statement of what was done.</summary>
/// <param name="By">Who and when.</param>
/// <param name="Text">What.</param>
public sealed record Note(Act By, string Text);
