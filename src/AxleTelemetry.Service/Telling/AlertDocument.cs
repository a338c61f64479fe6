using System.Collections.Immutable;
using System.Text.Json.Serialization;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Service.Serving;

namespace AxleTelemetry.Service.Telling;

/// <summary>An alert as it stands.</summary>
internal sealed record AlertDocument
{
    /// <summary>Identity; with '/api/v1/alerts/' before it, its address.</summary>
    public required string Id { get; init; }

    public required string Fleet { get; init; }

    public required string Vehicle { get; init; }

    public required string Subject { get; init; }

    public required string About { get; init; }

    public required StateDocument State { get; init; }

    public required string Priority { get; init; }

    /// <summary>Beginning, by the vehicle's clock.</summary>
    public required Moment Since { get; init; }

    /// <summary>When the last of it ended; absent while it holds.</summary>
    public Moment? Ended { get; init; }

    /// <summary>When it became known.</summary>
    public required Moment KnownAt { get; init; }

    public required bool Holds { get; init; }

    /// <summary>Highest level it reached.</summary>
    public required string Reached { get; init; }

    /// <summary>How often it began.</summary>
    public required int Count { get; init; }

    /// <summary>It came three times or more.</summary>
    public required bool Chatters { get; init; }

    /// <summary>Somebody still owes a statement of what was done.</summary>
    public required bool Owes { get; init; }

    public required bool Escalated { get; init; }

    public FiguresDocument? Figures { get; init; }

    /// <summary>What holds.</summary>
    public required string Sentence { get; init; }

    /// <summary>What was told last in full, with its remedy; absent where it is no longer kept.</summary>
    public string? Told { get; init; }

    /// <summary>What else is told with it.</summary>
    public required ImmutableArray<string> With { get; init; }

    public required ImmutableArray<NoteDocument> Notes { get; init; }

    /// <summary>Whom it reached.</summary>
    public required ImmutableArray<ContactDocument> ReachedWhom { get; init; }

    /// <summary>On the way to whom it was given up.</summary>
    public required ImmutableArray<ContactDocument> NotReached { get; init; }

    public static AlertDocument Of(Alert alert, Combination? combination)
    {
        var words = new SubjectWords(new PartNames(combination));
        return new AlertDocument
        {
            Id = alert.Id.ToString(),
            Fleet = alert.Id.Vehicle.Fleet,
            Vehicle = alert.Id.Vehicle.Id,
            Subject = alert.Id.Subject.ToString(),
            About = words.Of(alert.Id.Subject),
            State = StateDocument.Of(alert.State),
            Priority = JsonText.Word(alert.Priority),
            Since = alert.Episodes.Min(e => e.Since),
            Ended = alert.Ended,
            KnownAt = alert.KnownAt,
            Holds = alert.Holds,
            Reached = JsonText.Word(alert.Episodes.Max(e => e.Highest)),
            Count = alert.Count,
            Chatters = alert.Chatters,
            Owes = alert.Owes,
            Escalated = alert.Escalated,
            Figures = FiguresDocument.Of(alert.Figures),
            Sentence = SentenceOf(alert, words),
            With = [.. alert.Episodes.Where(e => !e.Void && e.Subject != alert.Id.Subject).Select(e => e.Subject).Distinct().Order().Select(words.Of)],
            Notes = [.. alert.Notes.Select(n => new NoteDocument(n.By.Who, n.By.At, n.Text))],
            ReachedWhom = [.. alert.Contacts.OfType<Contact.Reached>().Select(ContactDocument.Of)],
            NotReached = [.. alert.Contacts.OfType<Contact.GivenUp>().Select(ContactDocument.Of)],
        };
    }

    private static string SentenceOf(Alert alert, SubjectWords words)
    {
        if (alert.Id.Subject.Finding is not { } key) return alert.Holds ? $"{alert.Id.Vehicle.Id} is not heard." : $"Ended: {alert.Id.Vehicle.Id} is heard again.";
        return alert.Holds ? words.Sentence(key, alert.Episodes.Where(e => e.Holds).Max(e => e.Level), alert.Figures) : $"Ended: {words.Of(key)}.";
    }
}

/// <summary>A statement of what was done.</summary>
internal sealed record NoteDocument(string Who, Moment At, string Text);

/// <summary>Somebody an alert was sent to.</summary>
/// <param name="Who">Recipient, as the settings name them.</param>
/// <param name="Channel"><c>mail</c>, <c>webhook</c>.</param>
/// <param name="At">When the other side had it; of one that was given up, when that was.</param>
/// <param name="Why">Why it was given up; absent where it was not.</param>
internal sealed record ContactDocument(string Who, string Channel, Moment At, [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] string? Why = null)
{
    /// <summary>Of a contact.</summary>
    public static ContactDocument Of(Contact contact) => new(contact.Who, contact.Channel, contact.At, (contact as Contact.GivenUp)?.Why);
}

/// <summary>A page of alerts, most urgent first.</summary>
/// <param name="At">When it was asked.</param>
/// <param name="Total">All that fit.</param>
/// <param name="Alerts">Those of this page.</param>
/// <param name="Next">For 'after' of the next page; absent on the last one.</param>
/// <param name="Cautions">To be shown once beside the loads.</param>
internal sealed record AlertList(Moment At, int Total, ImmutableArray<AlertDocument> Alerts, string? Next, ImmutableArray<string> Cautions);

/// <summary>An alert with what happened to it.</summary>
/// <param name="Alert">As it stands; absent where it closed so long ago that only its changes are kept.</param>
/// <param name="Changes">Oldest first.</param>
/// <param name="Deliveries">Messages about it and what came of each, newest first, as they are kept beside the journal: those that were delivered for 30 days. Whom it reached in the end stands in the alert and its changes for good. Absent where they cannot be read now.</param>
/// <param name="Cautions">To be shown once beside the loads.</param>
internal sealed record AlertDetail(AlertDocument? Alert, ImmutableArray<AlertChangeDocument> Changes, ImmutableArray<DeliveryDocument>? Deliveries, ImmutableArray<string> Cautions);

/// <summary>What a person does.</summary>
/// <param name="Reason">Why: to shelve and to take out of service.</param>
/// <param name="Until">End of the shelf, RFC 3339.</param>
/// <param name="Text">What was done: to state it.</param>
internal sealed record ActionRequest(string? Reason, string? Until, string? Text);

/// <summary>What came of an action.</summary>
internal sealed record ActionDone(AlertDocument Alert, ImmutableArray<AlertChangeDocument> Changes);
