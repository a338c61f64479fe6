using System.Text;
using System.Text.Json.Nodes;
using AxleTelemetry.Messages.Recordings;

namespace AxleTelemetry.Service.Tests.Crashing;

/// <summary>Messages as text, to hold what was sent against what is kept.</summary>
internal static class Message
{
    public static string Text(string topic, ReadOnlySpan<byte> payload) => topic + " " + Encoding.UTF8.GetString(payload);

    /// <summary>Every message sent is kept and nothing else; each once, but for those that state nothing of a moment: they are kept as signs of life.</summary>
    public static void AssertKept(IEnumerable<RecordedMessage> sent, IEnumerable<string> kept)
    {
        var texts = sent.Select(m => Text(m.Topic, m.Payload.Span)).ToHashSet();
        var counts = kept.CountBy(k => k).ToDictionary();
        Assert.Equal([], texts.Where(t => !counts.ContainsKey(t)));
        Assert.Equal([], counts.Keys.Where(k => !texts.Contains(k)));
        Assert.Equal([], counts.Where(c => c.Value > 1 && SaysSomething(c.Key)).Select(c => FormattableString.Invariant($"{c.Value} times {c.Key}")));
    }

    private static bool SaysSomething(string text) =>
        JsonNode.Parse(text[(text.IndexOf(' ', StringComparison.Ordinal) + 1)..])!["samples"] is JsonArray samples && samples.Any(sample => sample!.AsObject().Count > 1);
}
