using System.Buffers;
using System.Text;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Service.Tests.Serving;

/// <summary>A message after something was done to it. It may still be good: what it is worth only <see cref="MessageOracle"/> says.</summary>
/// <param name="How">What was done, for people.</param>
/// <param name="Topic">The topic as text.</param>
/// <param name="Payload">The bytes.</param>
/// <param name="Received">When it comes.</param>
internal sealed record SpoiledMessage(string How, string Topic, byte[] Payload, Moment Received)
{
    private static readonly SearchValues<char> Reserved = SearchValues.Create("+#\0");

    /// <summary>Whether a broker would take the topic at all: MQTT forbids an empty one, wildcards, the zero character, more than 65 535 bytes, what is no Unicode.</summary>
    public bool CanBePublished =>
        Topic.Length > 0 && !Topic.AsSpan().ContainsAny(Reserved) && Topic == Encoding.UTF8.GetString(Encoding.UTF8.GetBytes(Topic)) && Encoding.UTF8.GetByteCount(Topic) <= ushort.MaxValue;

    /// <inheritdoc/>
    public override string ToString() => $"{How}: {Shown(Topic)} {Shown(Encoding.Latin1.GetString(Payload))}";

    private static string Shown(string text) => text.Length <= 300 ? text : $"{text[..300]}... ({text.Length} characters)";
}
