using System.Buffers;
using System.Text.Json;
using System.Text.Unicode;

namespace AxleTelemetry.Messages.Recordings;

/// <summary>
/// Writes a recording that <see cref="RecordingReader"/> reads back to the same bytes. A payload that is one JSON value on
/// one line stands as it is, readable; any other is written in base64. Each message is handed to the stream whole; the stream stays the caller's.
/// </summary>
public sealed class RecordingWriter
{
    private const int MaxPlainDepth = 32;

    private readonly Stream stream;
    private readonly ArrayBufferWriter<byte> line = new(1024);

    /// <summary>Writes to a stream, from where it stands.</summary>
    public RecordingWriter(Stream stream)
    {
        ArgumentNullException.ThrowIfNull(stream);
        this.stream = stream;
    }

    /// <summary>Writes one message as one line. I/O errors of the stream pass through.</summary>
    public void Write(RecordedMessage message)
    {
        ArgumentNullException.ThrowIfNull(message);
        line.ResetWrittenCount();
        using (var json = new Utf8JsonWriter(line))
        {
            json.WriteStartObject();
            json.WriteString("topic", message.Topic);
            if (message.Received is { } received) json.WriteString("received", received.ToString());
            WritePayload(json, message.Payload.Span);
            json.WriteEndObject();
        }

        line.Write("\n"u8);
        stream.Write(line.WrittenSpan);
    }

    private static void WritePayload(Utf8JsonWriter json, ReadOnlySpan<byte> payload)
    {
        if (IsPlain(payload))
        {
            json.WritePropertyName("payload");
            json.WriteRawValue(payload, skipInputValidation: true);
        }
        else
        {
            json.WriteBase64String("payload_base64", payload);
        }
    }

    private static bool IsPlain(ReadOnlySpan<byte> payload)
    {
        // Space around the value would be lost on reading, a line end would end the line.
        if (payload.IsEmpty || payload[0] <= ' ' || payload[^1] <= ' ' || payload.IndexOfAny((byte)'\n', (byte)'\r') >= 0) return false;
        if (!Utf8.IsValid(payload)) return false;
        var json = new Utf8JsonReader(payload, new JsonReaderOptions { MaxDepth = MaxPlainDepth });
        try
        {
            while (json.Read())
            {
            }

            return true;
        }
        catch (JsonException)
        {
            // Not JSON is an answer here: such bytes go into base64.
            return false;
        }
    }
}
