using System.Collections.Immutable;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Simulator.Recordings;

namespace AxleTelemetry.Simulator.Tests.Recordings;

/// <summary>The example fleet on the road, and what its messages say once decoded.</summary>
internal static class Recorded
{
    public static readonly RecordingScene Scene = new()
    {
        Fleet = "north",
        Vehicles = [.. Names().Select(name => Repository.Vehicle(name)!)],
        Seconds = 5400,
    };

    private static readonly Dictionary<string, KeyTable> Keys = Scene.Vehicles.ToDictionary(v => v.Id, v => new KeyTable(
        v.Sensors.Select(s => s.Key), v.Axles.Select(a => a.Key), v.Modes.Select(m => m.Name)));

    /// <summary>Decodes every message with no allowance for clocks that run ahead; what is refused fails the test.</summary>
    public static IEnumerable<(Topic Topic, DecodedMessage Message)> Decoded(ImmutableArray<RecordedMessage> messages)
    {
        foreach (var message in messages)
        {
            var topic = Assert.IsType<TopicResult.Named>(Topic.Parse(message.Topic)).Topic;
            var into = new DecodedMessage();
            PayloadDecoder.Decode(message.Payload.Span, new Envelope(topic, Keys[topic.Vehicle], message.Received!.Value, TimeSpan.Zero), into);
            Assert.Empty(into.Refusals.Details.ToArray());
            yield return (topic, into);
        }
    }

    /// <summary>What is said by each vehicle, each thing once, however often and in whichever order it came.</summary>
    public static HashSet<string> Said(ImmutableArray<RecordedMessage> messages)
    {
        var said = new HashSet<string>();
        foreach (var (topic, message) in Decoded(messages))
        {
            foreach (var reading in message.Readings) said.Add($"{topic.Vehicle} {topic.Stream} {reading}");
            foreach (var coupling in message.Couplings) said.Add($"{topic.Vehicle} {coupling.At} {string.Join(' ', coupling.Trailers)}");
            if (message.Presence is { } presence) said.Add($"{topic.Vehicle} {presence} {message.Boot}");
        }

        return said;
    }

    private static IEnumerable<string> Names() =>
        ["rigid-6x2-tag", "rigid-6x2-pusher", "rigid-8x4-regulated-lift", "tractor-4x2", "tractor-6x2-pusher", "semi-tridem-lift-first", "semi-bare", "trailer-centre-axle"];
}
