using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Sharding;

namespace AxleTelemetry.Service.Hosting;

/// <summary>What a service is given from outside.</summary>
internal sealed record Surroundings
{
    /// <summary>The clock.</summary>
    public required TimeProvider Clock { get; init; }

    /// <summary>Told of every step of a message; <c>null</c> where nobody listens.</summary>
    public Action<TraceEvent>? Hook { get; init; }

    /// <summary>Receives changes of a connection.</summary>
    public Action<string, ReceiverNotice> TellReceiver { get; init; } = (_, _) => { };

    /// <summary>Receives changes of a shard.</summary>
    public Action<ShardNotice> TellShard { get; init; } = _ => { };

    /// <summary>Receives changes of the configuration, and what is wrong with it, in sentences.</summary>
    public Action<bool, string> TellConfiguration { get; init; } = (_, _) => { };

    /// <summary>How shards work.</summary>
    public ShardOptions Shards { get; init; } = new();
}
