using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Storage.Delivering;

/// <summary>One message to one recipient.</summary>
/// <param name="Number">Its number in this file.</param>
/// <param name="Message">What the other side knows it by, however often it comes. Not the same for two messages to one recipient.</param>
/// <param name="Recipient">To whom.</param>
public sealed record Parcel(long Number, string Message, string Recipient)
{
    /// <summary>About which alert; empty for a digest.</summary>
    public required string Alert { get; init; }

    /// <summary>Why it goes out.</summary>
    public required ParcelKind Kind { get; init; }

    /// <summary>Where it stands.</summary>
    public required ParcelState State { get; init; }

    /// <summary>True where it does not wait behind what is less urgent.</summary>
    public required bool IsUrgent { get; init; }

    /// <summary>When it was to be told first.</summary>
    public required Moment Queued { get; init; }

    /// <summary>Not to be tried before.</summary>
    public required Moment Due { get; init; }

    /// <summary>How often it was tried in vain.</summary>
    public required int Attempts { get; init; }

    /// <summary>When it came to its end; <c>null</c> while it waits.</summary>
    public Moment? Ended { get; init; }

    /// <summary>What the other side said last; <c>null</c> where nothing went wrong.</summary>
    public string? Trouble { get; init; }

    /// <summary>The change of the alert as the journal keeps it; empty for a digest, and once it need not be sent any more.</summary>
    public required ImmutableArray<byte> Bytes { get; init; }
}

/// <summary>Why a message goes out. Numbers stand in the file.</summary>
public enum ParcelKind
{
    /// <summary>An alert changed.</summary>
    Change,

    /// <summary>Nobody acknowledged it in time.</summary>
    Escalation,

    /// <summary>Several changes in one.</summary>
    Digest,
}

/// <summary>Where a message stands. Numbers stand in the file.</summary>
public enum ParcelState
{
    /// <summary>It is to be sent.</summary>
    Waiting,

    /// <summary>It is told as a part of a digest.</summary>
    Gathered,

    /// <summary>The other side has it.</summary>
    Delivered,

    /// <summary>It was given up; it can be sent again.</summary>
    Dead,
}

/// <summary>A message to be.</summary>
/// <param name="Message">What the other side knows it by.</param>
/// <param name="Recipient">To whom.</param>
/// <param name="Alert">About which alert.</param>
/// <param name="Kind">Why.</param>
public sealed record NewParcel(string Message, string Recipient, string Alert, ParcelKind Kind)
{
    /// <summary>True where it does not wait behind what is less urgent.</summary>
    public required bool IsUrgent { get; init; }

    /// <summary>When it is to be told.</summary>
    public required Moment At { get; init; }

    /// <summary>By what way it goes, where the book of alerts is to be told what came of it; otherwise <c>null</c>.</summary>
    public string? Channel { get; init; }

    /// <summary>The change of the alert as the journal keeps it.</summary>
    public required ImmutableArray<byte> Bytes { get; init; }
}

/// <summary>Somebody is to be told unless an alert is acknowledged before.</summary>
/// <param name="Alert">Which alert.</param>
/// <param name="Step">After how many minutes and whom: no two of an alert are the same.</param>
/// <param name="Due">When.</param>
public sealed record Reminder(string Alert, string Step, Moment Due)
{
    /// <summary>Who is to be told.</summary>
    public required ImmutableArray<string> To { get; init; }

    /// <summary>What the message will be known by.</summary>
    public required string Message { get; init; }

    /// <summary>The last change of the alert as the journal keeps it.</summary>
    public required ImmutableArray<byte> Bytes { get; init; }
}

/// <summary>What came of the messages to a recipient, ever.</summary>
/// <param name="Delivered">The other side has them.</param>
/// <param name="Retried">Attempts that failed and were, or will be, made again.</param>
/// <param name="Dead">Given up.</param>
/// <param name="Gathered">Told as parts of a digest.</param>
/// <param name="Escalated">Sent as nobody acknowledged in time.</param>
/// <param name="Dropped">Given up and not kept any more.</param>
public readonly record struct DeliveryTally(long Delivered, long Retried, long Dead, long Gathered, long Escalated, long Dropped);
