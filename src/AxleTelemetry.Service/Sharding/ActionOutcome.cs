using System.Collections.Immutable;
using AxleTelemetry.Domain.Telling;

namespace AxleTelemetry.Service.Sharding;

/// <summary>What came of a person's action.</summary>
internal abstract record ActionOutcome
{
    private ActionOutcome() { }

    /// <summary>It is in the journal.</summary>
    public sealed record Taken(Alert Alert, ImmutableArray<AlertChange> Changes) : ActionOutcome;

    /// <summary>It does not fit how the alert stands; nothing has changed.</summary>
    public sealed record Refused(ActionRefusal Why) : ActionOutcome;

    /// <summary>The journal takes nothing now; nothing has changed.</summary>
    public sealed record Unavailable(string Why) : ActionOutcome;

    /// <summary>The service stopped while the journal did not take it: it may be in the journal or not.</summary>
    public sealed record Unknown(string Why) : ActionOutcome;
}
