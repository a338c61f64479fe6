using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;

namespace AxleTelemetry.Web.Sight;

/// <summary>An open alert with everything that is said of it.</summary>
public sealed record AlertLine
{
    /// <summary>Its identity as text: <c>fleet/vehicle/subject/milliseconds</c>.</summary>
    public required string Id { get; init; }

    /// <summary>Whose.</summary>
    public required VehicleName Vehicle { get; init; }

    /// <summary>Registration plate; may be empty.</summary>
    public required string Plate { get; init; }

    /// <summary>What it is about: <c>axle 2 (drive) over its limit</c>.</summary>
    public required string About { get; init; }

    /// <summary>What was told last, without its remedy.</summary>
    public required string Sentence { get; init; }

    /// <summary>What to do, in a sentence; <c>null</c> where none was told.</summary>
    public string? Remedy { get; init; }

    public required AlertState State { get; init; }

    public required AlertPriority Priority { get; init; }

    /// <summary>How sure it is while it holds, and how sure it ever was afterwards.</summary>
    public required Level Level { get; init; }

    public required bool Holds { get; init; }

    /// <summary>By how much a limit is passed; <c>null</c> for what has no limit.</summary>
    public AlertFigures? Figures { get; init; }

    /// <summary>Since when, by the vehicle's clock.</summary>
    public required Moment Since { get; init; }

    /// <summary>When the last of it ended; <c>null</c> while it holds.</summary>
    public Moment? Ended { get; init; }

    /// <summary>When it became known.</summary>
    public required Moment KnownAt { get; init; }

    /// <summary>How often it began.</summary>
    public required int Count { get; init; }

    /// <summary>Somebody still owes a statement of what was done.</summary>
    public required bool Owes { get; init; }

    public required bool Escalated { get; init; }

    /// <summary>What else is told with it.</summary>
    public required ImmutableArray<string> With { get; init; }

    public required ImmutableArray<Note> Notes { get; init; }

    /// <summary>Whom it reached and whom it did not.</summary>
    public required ImmutableArray<Contact> Contacts { get; init; }

    /// <summary>Whom to phone; <c>null</c> where nobody has entered a number.</summary>
    public Telephone? Telephone { get; init; }
}

/// <summary>Somebody an alert is on its way to.</summary>
/// <param name="Who">Recipient.</param>
/// <param name="Since">Since when.</param>
/// <param name="Trouble">What went wrong last; <c>null</c> where nothing did.</param>
public sealed record AwaitedContact(string Who, Moment Since, string? Trouble);

/// <summary>Whom to phone about a vehicle.</summary>
/// <param name="Number">Number as it is dialled.</param>
/// <param name="Whose">Driver or depot.</param>
/// <param name="Language">In which language.</param>
public sealed record Telephone(string Number, string Whose, string Language);
