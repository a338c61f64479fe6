using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Serialization;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Storage.Delivering;

namespace AxleTelemetry.Service.Delivering;

/// <summary>A message about alerts for programs. The same message has the same bytes however often it is sent. Names and units stay as they are.</summary>
internal sealed record AlertMessage
{
    /// <summary>What it is known by: whoever has seen it leaves it out the next time.</summary>
    public required string Id { get; init; }

    /// <summary><c>alert.changed</c>, <c>alert.unacknowledged</c>, <c>alert.digest</c>.</summary>
    public required string Type { get; init; }

    /// <summary>When it was to be told.</summary>
    public required Moment Timestamp { get; init; }

    /// <summary>Language of the sentences.</summary>
    public required string Language { get; init; }

    /// <summary>The change; of an alert that nobody acknowledged, its last one. Absent in a digest.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public AlertChangeDocument? Data { get; init; }

    /// <summary>The changes of a digest, as they came; otherwise absent.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public ImmutableArray<AlertChangeDocument>? Digest { get; init; }

    /// <summary>To be shown beside the sentences.</summary>
    public required string Caution { get; init; }

    /// <summary>The message as it is sent.</summary>
    public static byte[] Write(Outgoing message, Language language) => JsonSerializer.SerializeToUtf8Bytes(Of(message, language), JsonText.Options);

    /// <summary>The message in a language.</summary>
    public static AlertMessage Of(Outgoing message, Language language) => new()
    {
        Id = message.Parcel.Message,
        Type = message.Parcel.Kind switch
        {
            ParcelKind.Change => "alert.changed",
            ParcelKind.Escalation => "alert.unacknowledged",
            ParcelKind.Digest => "alert.digest",
            _ => throw new ArgumentOutOfRangeException(nameof(message), message.Parcel.Kind, "Unknown kind."),
        },
        Timestamp = message.Parcel.Queued,
        Language = JsonText.Word(language),
        Data = message.Parcel.Kind == ParcelKind.Digest ? null : Document(message.Parcel, language),
        Digest = message.Parcel.Kind == ParcelKind.Digest ? [.. message.Parts.Select(p => Part(p, language))] : null,
        Caution = DeliveryTexts.Of(language).Caution,
    };

    /// <summary>What a digest says of one of its parts: that nobody acknowledged it, where that is why it stands there.</summary>
    public static AlertChangeDocument Part(Parcel parcel, Language language)
    {
        var document = Document(parcel, language);
        return parcel.Kind == ParcelKind.Escalation ? document with { Sentence = $"{DeliveryTexts.Of(language)["Escalated"]} {document.Sentence}" } : document;
    }

    /// <summary>The change that a parcel tells of, in one language.</summary>
    /// <exception cref="InvalidDataException">It holds none.</exception>
    public static AlertChangeDocument Document(Parcel parcel, Language language)
    {
        var document = AlertChangeJson.Read(parcel.Bytes.AsSpan()) ?? throw new InvalidDataException($"Message {parcel.Message} holds no change of an alert.");
        var words = document.InOtherLanguages?.GetValueOrDefault(JsonText.Word(language));
        if (words is null) return document with { InOtherLanguages = null };
        // The sentence holds the remedy in its own language; by itself it is kept in English only.
        return document with
        {
            About = words.About,
            Sentence = words.Sentence,
            Happened = words.Happened ?? document.Happened,
            With = words.With ?? document.With,
            State = document.State with { Words = DeliveryTexts.Of(language).State(document.State.Code) },
            Remedy = null,
            InOtherLanguages = null,
        };
    }
}
