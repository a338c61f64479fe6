using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Service.Sharding;

/// <summary>Whom a topic names.</summary>
internal abstract record Addressed
{
    private Addressed() { }

    /// <summary>A described vehicle.</summary>
    public sealed record Known(Topic Topic, FollowedVehicle Vehicle) : Addressed;

    /// <summary>A vehicle that nobody described.</summary>
    public sealed record Unknown(VehicleName Vehicle) : Addressed;

    /// <summary>No vehicle at all.</summary>
    public sealed record Nowhere(Refusal Why) : Addressed;

    /// <summary>Looks up a topic.</summary>
    public static Addressed Of(string topic, ShardState state)
    {
        switch (Topic.Parse(topic))
        {
            case TopicResult.Named named:
                var name = new VehicleName(named.Topic.Fleet, named.Topic.Vehicle);
                return state.Log.Latest.Find(name) is { } described ? new Known(named.Topic, state.Follow(name, described)) : new Unknown(name);
            case TopicResult.Refused refused:
                return new Nowhere(refused.Refusal);
            default:
                throw new InvalidOperationException("An outcome of parsing a topic that nobody handles.");
        }
    }
}
