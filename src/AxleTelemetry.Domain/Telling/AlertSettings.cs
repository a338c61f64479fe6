namespace AxleTelemetry.Domain.Telling;

/// <summary>What the house may set about telling. Immutable; another one may hold from any input on.</summary>
public sealed record AlertSettings
{
    /// <summary>A high alert that nobody acknowledged for so long rings once more, to more people; <c>null</c> never.</summary>
    public TimeSpan? EscalateHigh { get; init; } = TimeSpan.FromMinutes(10);

    /// <summary>The same for a medium alert.</summary>
    public TimeSpan? EscalateMedium { get; init; }

    /// <summary>What comes back so soon after it ended is the same alert once more.</summary>
    public TimeSpan ChatterWindow { get; init; } = TimeSpan.FromMinutes(5);

    /// <summary>What ended, or began, so long before it became known does not ring by itself.</summary>
    public TimeSpan LongOver { get; init; } = TimeSpan.FromMinutes(30);

    /// <summary>How long an old beginning may wait for its end, which may be in the same backlog, before it rings.</summary>
    public TimeSpan LateGrace { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>Longest time an alert may be shelved.</summary>
    public TimeSpan LongestShelf { get; init; } = TimeSpan.FromDays(7);

    /// <summary>How long a closed alert is remembered. More than a correction of history reaches back (72 h), or a correction could tell it again.</summary>
    public TimeSpan KeepClosed { get; init; } = TimeSpan.FromHours(96);

    /// <summary>Least silence that is told.</summary>
    public TimeSpan LeastSilence { get; init; } = TimeSpan.FromMinutes(15);

    /// <summary>Silence that is told of a vehicle whose habit is not known yet.</summary>
    public TimeSpan SilenceOfStranger { get; init; } = TimeSpan.FromHours(26);

    /// <summary>Longest silence that goes untold, whatever the habit.</summary>
    public TimeSpan MostSilence { get; init; } = TimeSpan.FromDays(7);

    /// <summary>How long an alert of a priority may wait for its acknowledgement.</summary>
    public TimeSpan? Escalation(AlertPriority priority) => priority switch
    {
        AlertPriority.High => EscalateHigh,
        AlertPriority.Medium => EscalateMedium,
        AlertPriority.Low => null,
        _ => throw new ArgumentOutOfRangeException(nameof(priority), priority, "Unknown priority."),
    };
}
