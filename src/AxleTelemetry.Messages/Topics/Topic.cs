using AxleTelemetry.Messages.Refusals;

namespace AxleTelemetry.Messages.Topics;

/// <summary>Where a message comes from: <c>axles/v1/{fleet}/{vehicle}/{stream}</c>. The vehicle is named here and nowhere else.</summary>
/// <param name="Fleet">Id of the fleet.</param>
/// <param name="Vehicle">Id of the vehicle, unique in its fleet.</param>
/// <param name="Stream">What the message carries.</param>
public sealed record Topic(string Fleet, string Vehicle, UpStream Stream)
{
    /// <summary>What every topic begins with.</summary>
    public const string Root = "axles/v1/";

    private const string Shape = "axles/v1/{fleet}/{vehicle}/{stream}";

    /// <summary>Parses a topic into its parts or the reason why it is refused. Never throws.</summary>
    public static TopicResult Parse(string topic)
    {
        ArgumentNullException.ThrowIfNull(topic);
        if (!topic.StartsWith(Root, StringComparison.Ordinal)) return Refuse(RefusalReason.BadTopic, topic, Shape);
        Span<Range> parts = stackalloc Range[4];
        var rest = topic.AsSpan(Root.Length);
        if (rest.Split(parts, '/') != 3) return Refuse(RefusalReason.BadTopic, topic, Shape);
        var fleet = rest[parts[0]];
        var vehicle = rest[parts[1]];
        if (!Id.IsValid(fleet)) return Refuse(RefusalReason.BadId, fleet, "a fleet id: " + Id.Rule);
        if (!Id.IsValid(vehicle)) return Refuse(RefusalReason.BadId, vehicle, "a vehicle id: " + Id.Rule);
        return UpStreamNames.Find(rest[parts[2]]) is { } stream
            ? new TopicResult.Named(new Topic(fleet.ToString(), vehicle.ToString(), stream))
            : Refuse(RefusalReason.UnknownStream, rest[parts[2]], "one of " + string.Join(", ", UpStreamNames.All));
    }

    /// <summary>The topic as MQTT carries it.</summary>
    public override string ToString() => $"{Root}{Fleet}/{Vehicle}/{Stream.Name()}";

    private static TopicResult.Refused Refuse(RefusalReason reason, ReadOnlySpan<char> what, string right) =>
        new(new Refusal(reason, "topic", Excerpt.Of(what), right));
}
