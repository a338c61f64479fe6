using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Telling;

/// <summary>What a person does about an alert.</summary>
/// <param name="Who">Name of the account.</param>
public abstract record OperatorAction(string Who)
{
    /// <summary>Takes notice.</summary>
    public sealed record Acknowledge(string Who) : OperatorAction(Who);

    /// <summary>Puts it aside for a time. Both reason and end are needed.</summary>
    public sealed record Shelve(string Who, string Reason, Moment? Until) : OperatorAction(Who);

    /// <summary>Takes it back from the shelf before its end.</summary>
    public sealed record Unshelve(string Who) : OperatorAction(Who);

    /// <summary>States what was done; takes notice at the same time.</summary>
    public sealed record StateDone(string Who, string Text) : OperatorAction(Who);

    /// <summary>Takes it out of service: until it is put back it is listed and does not ring, however often it comes.</summary>
    public sealed record TakeOutOfService(string Who, string Reason) : OperatorAction(Who);

    /// <summary>Puts it back into service.</summary>
    public sealed record PutBack(string Who) : OperatorAction(Who);
}

/// <summary>Why an action was not taken. Nothing has changed then.</summary>
public enum ActionRefusal : byte
{
    /// <summary>No such alert, or closed so long ago that it is no longer kept.</summary>
    UnknownAlert,

    /// <summary>Nobody is named.</summary>
    NobodyNamed,

    /// <summary>It is closed.</summary>
    AlreadyClosed,

    /// <summary>It is acknowledged.</summary>
    AlreadyAcknowledged,

    /// <summary>It is shelved.</summary>
    AlreadyShelved,

    /// <summary>It is not shelved.</summary>
    NotShelved,

    /// <summary>A reason is needed.</summary>
    ReasonMissing,

    /// <summary>An end is needed.</summary>
    EndMissing,

    /// <summary>The end is not after now.</summary>
    EndNotAhead,

    /// <summary>The end is further away than a shelf may be.</summary>
    EndTooFar,

    /// <summary>It does not ring anyway, by design.</summary>
    SuppressedByDesign,

    /// <summary>It is out of service.</summary>
    AlreadyOutOfService,

    /// <summary>It is in service.</summary>
    NotOutOfService,

    /// <summary>A note of nothing.</summary>
    NoteEmpty,

    /// <summary>More than 2 000 characters.</summary>
    TextTooLong,

    /// <summary>More than 32 notes.</summary>
    TooManyNotes,
}
