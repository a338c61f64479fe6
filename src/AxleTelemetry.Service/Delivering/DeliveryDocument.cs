using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Storage.Delivering;

namespace AxleTelemetry.Service.Delivering;

/// <summary>A message about alerts and what came of it.</summary>
internal sealed record DeliveryDocument
{
    /// <summary>Its number, to have it sent again.</summary>
    public required long Number { get; init; }

    /// <summary>What the other side knows it by.</summary>
    public required string Id { get; init; }

    /// <summary>To whom, as the settings name them.</summary>
    public required string Recipient { get; init; }

    /// <summary>Why: <c>change</c>, <c>escalation</c>, <c>digest</c>.</summary>
    public required string Kind { get; init; }

    /// <summary>Where it stands: one of <see cref="States"/>.</summary>
    public required string State { get; init; }

    /// <summary>About which alert; absent for a digest.</summary>
    public string? Alert { get; init; }

    /// <summary>When it was to be told.</summary>
    public required Moment Queued { get; init; }

    /// <summary>When it is tried next; absent where it is not.</summary>
    public Moment? Due { get; init; }

    /// <summary>Attempts that failed.</summary>
    public required int Attempts { get; init; }

    /// <summary>When it came to its end; absent while it waits.</summary>
    public Moment? Ended { get; init; }

    /// <summary>What went wrong last; absent where nothing did.</summary>
    public string? Trouble { get; init; }

    /// <summary>Every state.</summary>
    public static ImmutableArray<string> States { get; } = [.. Enum.GetValues<ParcelState>().Select(JsonText.Word)];

    /// <summary>Of a message.</summary>
    public static DeliveryDocument Of(Parcel parcel) => new()
    {
        Number = parcel.Number,
        Id = parcel.Message,
        Recipient = parcel.Recipient,
        Kind = JsonText.Word(parcel.Kind),
        State = JsonText.Word(parcel.State),
        Alert = parcel.Alert.Length == 0 ? null : parcel.Alert,
        Queued = parcel.Queued,
        Due = parcel.State == ParcelState.Waiting ? parcel.Due : null,
        Attempts = parcel.Attempts,
        Ended = parcel.Ended,
        Trouble = parcel.Trouble,
    };
}

/// <summary>A page of messages, newest first.</summary>
/// <param name="Recipients">How each recipient is told.</param>
/// <param name="Unread">Changes of alerts of the last 30 days that could not be read, so that nobody was told of them; latest first, 100 at most.</param>
/// <param name="Deliveries">The messages.</param>
/// <param name="Next">For 'after' of the next page; absent on the last one.</param>
internal sealed record DeliveryList(ImmutableArray<RecipientDocument> Recipients, ImmutableArray<UnreadDocument> Unread, ImmutableArray<DeliveryDocument> Deliveries, string? Next);

/// <summary>A change of an alert that could not be read.</summary>
/// <param name="Alert">Of which alert.</param>
/// <param name="Shard">In whose journal.</param>
/// <param name="Source">Where there: <c>batch.row</c>.</param>
/// <param name="At">When that was seen.</param>
internal sealed record UnreadDocument(string Alert, string Shard, string Source, Moment At)
{
    /// <summary>Of a change.</summary>
    public static UnreadDocument Of(UnreadChange change) => new(change.Alert, change.Shard, FormattableString.Invariant($"{change.Position.Batch}.{change.Position.Row}"), change.At);
}

/// <summary>How a recipient is told. Counts are those since delivery was set up.</summary>
/// <param name="Recipient">Who, as the settings name them; <c>mqtt:</c> and a shard for its broker.</param>
/// <param name="Waiting">Messages that wait.</param>
/// <param name="Delivered">Messages that the other side has.</param>
/// <param name="Retried">Attempts that failed and are made again.</param>
/// <param name="Dead">Given-up messages that are kept.</param>
/// <param name="Dropped">Given-up messages that are not kept any more.</param>
/// <param name="Gathered">Messages told as parts of a digest.</param>
/// <param name="Escalated">Messages sent as nobody acknowledged in time.</param>
/// <param name="Trouble">Why nothing gets through at present; absent where it does.</param>
internal sealed record RecipientDocument(string Recipient, long Waiting, long Delivered, long Retried, long Dead, long Dropped, long Gathered, long Escalated, string? Trouble)
{
    /// <summary>Of a recipient.</summary>
    public static RecipientDocument Of(RecipientState state) =>
        new(state.Recipient, state.Waiting, state.Tally.Delivered, state.Tally.Retried, state.Dead, state.Tally.Dropped, state.Tally.Gathered, state.Tally.Escalated, state.Trouble);
}
