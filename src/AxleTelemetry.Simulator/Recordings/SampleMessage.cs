using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.Json;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Simulator.Recordings;

/// <summary>A good message taken apart: its samples as they stand in it, to be put into other messages.</summary>
internal sealed record SampleMessage
{
    // Leaves room below the contract's bounds.
    private const int MostBytes = 60 * 1024;

    public required string Topic { get; init; }

    public required string? Boot { get; init; }

    public required Moment Received { get; init; }

    public required ImmutableArray<Sample> Samples { get; init; }

    /// <summary>The message's samples; <c>null</c> for one that has none, such as presence.</summary>
    public static SampleMessage? Of(RecordedMessage message)
    {
        using var document = JsonDocument.Parse(message.Payload);
        if (!document.RootElement.TryGetProperty("samples", out var samples)) return null;
        return new SampleMessage
        {
            Topic = message.Topic,
            Boot = document.RootElement.TryGetProperty("boot", out var boot) ? boot.GetString() : null,
            Received = ReceivedOf(message),
            Samples = [.. samples.EnumerateArray().Select(s => new Sample(TimeOf(s.GetProperty("t")), Encoding.UTF8.GetBytes(s.GetRawText())))],
        };
    }

    /// <summary>When a message was received; a recording that does not say cannot be disturbed.</summary>
    public static Moment ReceivedOf(RecordedMessage message) =>
        message.Received ?? throw new ArgumentException($"A message of {message.Topic} does not say when it was received.", nameof(message));

    /// <summary>When the newest sample of a message was taken; <c>null</c> where it holds no time.</summary>
    public static Moment? NewestOf(RecordedMessage message)
    {
        if (Of(message) is { Samples.IsEmpty: false } parts) return parts.Samples.Max(s => s.At);
        using var document = JsonDocument.Parse(message.Payload);
        return document.RootElement.TryGetProperty("t", out var t) ? TimeOf(t) : null;
    }

    /// <summary>
    /// Puts samples of one topic and boot, in this order, into messages of other lengths. They carry no number: the numbers
    /// of a device count its own messages.
    /// </summary>
    /// <param name="samples">The samples, each with the time it was received first.</param>
    /// <param name="name">Topic and boot.</param>
    /// <param name="length">Draws how many samples the next message takes.</param>
    public static IEnumerable<RecordedMessage> Batched(IEnumerable<(Sample Sample, Moment Received)> samples, (string Topic, string? Boot) name, Func<int> length)
    {
        var batch = new List<(Sample Sample, Moment Received)>();
        var (most, bytes) = (length(), 0);
        foreach (var item in samples)
        {
            if (batch.Count >= most || bytes + item.Sample.Json.Length >= MostBytes)
            {
                yield return Message(batch, name);
                batch.Clear();
                (most, bytes) = (length(), 0);
            }

            batch.Add(item);
            bytes += item.Sample.Json.Length + 1;
        }

        if (batch.Count > 0) yield return Message(batch, name);
    }

    private static RecordedMessage Message(List<(Sample Sample, Moment Received)> batch, (string Topic, string? Boot) name)
    {
        var payload = FrameSample.Object(json =>
        {
            if (name.Boot is not null) json.WriteString("boot", name.Boot);
            json.WriteStartArray("samples");
            foreach (var (sample, _) in batch) json.WriteRawValue(sample.Json, skipInputValidation: true);
            json.WriteEndArray();
        });
        return new RecordedMessage(name.Topic, payload, batch.Max(b => b.Received));
    }

    private static Moment TimeOf(JsonElement t) => t.ValueKind == JsonValueKind.Number
        ? new Moment(t.GetInt64())
        : new Moment(DateTimeOffset.Parse(t.GetString()!, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal).ToUnixTimeMilliseconds());
}

/// <summary>A sample as it stands in a message.</summary>
/// <param name="At">When it was taken.</param>
/// <param name="Json">Its bytes.</param>
internal readonly record struct Sample(Moment At, byte[] Json);
