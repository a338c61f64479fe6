using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Tests.Payloads;

namespace AxleTelemetry.Service.Tests.Serving;

/// <summary>
/// Spoils good messages in all the ways that devices, cables and ill will do: bytes, structure and topics. Everything follows
/// from the seed; an endless stream, to take from.
/// </summary>
internal static class Spoiler
{
    /// <summary>Good messages spoiled, each by itself.</summary>
    public static IEnumerable<SpoiledMessage> Spoil(ImmutableArray<RecordedMessage> good, int seed)
    {
        var random = new Random(seed);
        while (true) yield return Spoiled(good[random.Next(good.Length)], random);
    }

    private static SpoiledMessage Spoiled(RecordedMessage message, Random random)
    {
        var payload = message.Payload.ToArray();
        var received = message.Received ?? default(Moment);
        var choice = random.Next(100);
        if (choice < 20)
        {
            var topic = TopicSpoiling.Of(message.Topic, random, out var how);
            return new SpoiledMessage(how, topic, payload, received);
        }

        var spoiled = choice < 45 ? ShapeSpoiling.Of(payload, random, out var way) : Mutation.Of(payload, random, out way);
        return new SpoiledMessage(way, message.Topic, spoiled, received);
    }
}
