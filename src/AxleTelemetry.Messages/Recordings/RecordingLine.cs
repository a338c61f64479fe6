using System.Text.Json;
using System.Text.Unicode;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Messages.Refusals;

namespace AxleTelemetry.Messages.Recordings;

/// <summary>One line of a recording.</summary>
internal static class RecordingLine
{
    private const int MaxDepth = 64;

    /// <summary>The message of a line or why it holds none; <c>null</c> for an empty line.</summary>
    public static RecordingEntry? Parse(ReadOnlySpan<byte> line, long number)
    {
        if (number == 1 && line.StartsWith("\uFEFF"u8)) line = line["\uFEFF"u8.Length..];
        if (line.Trim(" \t\r"u8).IsEmpty) return null;
        var parts = new Parts();
        try
        {
            if (!Utf8.IsValid(line)) parts.Refuse(RefusalReason.NotUtf8, "line", Excerpt.Of(line), "text in UTF-8");
            else Read(line, parts);
        }
        catch (JsonException problem)
        {
            var place = FormattableString.Invariant($"byte {problem.BytePositionInLine + 1}");
            parts.Refuse(RefusalReason.NotJson, "line", $"{Excerpt.Of(line)} ({place})", "one JSON object on one line");
        }

        return parts.Refusal is { } refusal
            ? new RecordingEntry.Unreadable(number, refusal)
            : new RecordingEntry.Read(number, new RecordedMessage(parts.Topic!, parts.Payload!, parts.Received));
    }

    private static void Read(ReadOnlySpan<byte> line, Parts parts)
    {
        var json = new Utf8JsonReader(line, new JsonReaderOptions { MaxDepth = MaxDepth });
        json.Read();
        if (json.TokenType != JsonTokenType.StartObject)
        {
            parts.Refuse(RefusalReason.WrongType, "line", Excerpt.Of(line), "an object");
            return;
        }

        while (json.Read() && json.TokenType == JsonTokenType.PropertyName)
        {
            // Compared as they stand: a name with an escape is none of the four.
            var name = json.ValueSpan;
            if (name.SequenceEqual("topic"u8)) ReadTopic(ref json, parts);
            else if (name.SequenceEqual("received"u8)) ReadReceived(ref json, parts);
            else if (name.SequenceEqual("payload"u8)) ReadPayload(ref json, line, parts);
            else if (name.SequenceEqual("payload_base64"u8)) ReadBase64(ref json, parts);
            else json.Skip();
        }

        json.Read();
        if (parts.Topic is null) parts.Refuse(RefusalReason.MissingField, "topic", "not there", "the topic");
        if (parts.Payload is null) parts.Refuse(RefusalReason.MissingField, "payload", "not there", "payload or payload_base64");
    }

    private static void ReadTopic(ref Utf8JsonReader json, Parts parts)
    {
        json.Read();
        if (json.TokenType != JsonTokenType.String) parts.Refuse(RefusalReason.WrongType, "topic", Excerpt.Of(json.ValueSpan), "text");
        else if (parts.Topic is not null) parts.Refuse(RefusalReason.Contradiction, "topic", Excerpt.Of(json.ValueSpan), "one topic");
        else parts.Topic = Text(ref json, parts);
        json.Skip();
    }

    private static string Text(ref Utf8JsonReader json, Parts parts)
    {
        try
        {
            return json.GetString()!;
        }
        catch (InvalidOperationException)
        {
            parts.Refuse(RefusalReason.BadTopic, "topic", Excerpt.Of(json.ValueSpan), "text without half a character");
            return "";
        }
    }

    private static void ReadReceived(ref Utf8JsonReader json, Parts parts)
    {
        json.Read();
        var moment = default(Moment);
        if (json.TokenType == JsonTokenType.Number && json.TryGetInt64(out var unix) && unix is >= 0 and <= TimeText.Last) moment = new Moment(unix);
        else if (json.TokenType != JsonTokenType.String || !TimeText.TryRead(json.ValueSpan, out moment))
        {
            parts.Refuse(RefusalReason.BadTime, "received", Excerpt.Of(json.ValueSpan), TimeText.Rule);
        }

        parts.Received = moment;
        json.Skip();
    }

    private static void ReadPayload(ref Utf8JsonReader json, ReadOnlySpan<byte> line, Parts parts)
    {
        json.Read();
        var start = (int)json.TokenStartIndex;
        json.Skip();
        parts.Take(line[start..(int)json.BytesConsumed].ToArray());
    }

    private static void ReadBase64(ref Utf8JsonReader json, Parts parts)
    {
        json.Read();
        if (Bytes(ref json) is { } bytes) parts.Take(bytes);
        else parts.Refuse(RefusalReason.BadBase64, "payload_base64", Excerpt.Of(json.ValueSpan), "base64");
        json.Skip();
    }

    private static byte[]? Bytes(ref Utf8JsonReader json)
    {
        if (json.TokenType != JsonTokenType.String) return null;
        try
        {
            return json.TryGetBytesFromBase64(out var bytes) ? bytes : null;
        }
        catch (InvalidOperationException)
        {
            // The reader's answer to an escape that stands for half a character.
            return null;
        }
    }

    /// <summary>What a line has said so far; the first refusal is the one told.</summary>
    private sealed class Parts
    {
        public string? Topic;
        public byte[]? Payload;
        public Moment? Received;

        public Refusal? Refusal { get; private set; }

        public void Refuse(RefusalReason reason, string field, string excerpt, string right) => Refusal ??= new Refusal(reason, field, excerpt, right);

        public void Take(byte[] payload)
        {
            if (Payload is not null) Refuse(RefusalReason.Contradiction, "payload", Excerpt.Of(payload), "one payload");
            Payload = payload;
        }
    }
}
