using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Service.Tests.Serving;

/// <summary>What a message is worth, by topic and decoder alone: what a service that it went through must have made of it.</summary>
internal sealed class MessageOracle(string fleet, IEnumerable<VehicleDescription> vehicles, TimeSpan allowedSkew)
{
    private readonly Dictionary<string, KeyTable> _keys = vehicles.ToDictionary(v => v.Id, v => new KeyTable(
        v.Sensors.Select(s => s.Key), v.Axles.Select(a => a.Key), v.Modes.Select(m => m.Name)), StringComparer.Ordinal);

    private readonly DecodedMessage _decoded = new();

    /// <summary>Everything refused of the message that was decoded last.</summary>
    public RefusalLog Refusals => _decoded.Refusals;

    /// <summary>Judges a message. What a verdict shows of a decoded one holds until the next.</summary>
    public MessageVerdict Judge(SpoiledMessage message) => Topic.Parse(message.Topic) switch
    {
        TopicResult.Refused refused => new MessageVerdict.NoTopic(refused.Refusal),
        TopicResult.Named named when named.Topic.Fleet != fleet || !_keys.ContainsKey(named.Topic.Vehicle) => new MessageVerdict.Stranger(named.Topic),
        TopicResult.Named named => Decode(message, named.Topic),
        _ => throw new InvalidOperationException("Parsing a topic has no third result."),
    };

    private MessageVerdict Decode(SpoiledMessage message, Topic topic)
    {
        PayloadDecoder.Decode(message.Payload, new Envelope(topic, _keys[topic.Vehicle], message.Received, allowedSkew), _decoded);
        return _decoded.RefusedWhole is { } refusal
            ? new MessageVerdict.RefusedWhole(topic, refusal)
            : new MessageVerdict.Taken(topic, _decoded, _decoded.Refusals.Details);
    }
}

/// <summary>What a message is worth.</summary>
internal abstract record MessageVerdict
{
    private MessageVerdict() { }

    /// <summary>It comes from nowhere.</summary>
    public sealed record NoTopic(Refusal Refusal) : MessageVerdict;

    /// <summary>It comes from a vehicle that nobody described.</summary>
    public sealed record Stranger(Topic Topic) : MessageVerdict;

    /// <summary>Nothing of it counts.</summary>
    public sealed record RefusedWhole(Topic Topic, Refusal Refusal) : MessageVerdict;

    /// <summary>It counts, less what is refused of it.</summary>
    public sealed record Taken(Topic Topic, DecodedMessage Message, ImmutableArray<Refusal> Refused) : MessageVerdict;
}
