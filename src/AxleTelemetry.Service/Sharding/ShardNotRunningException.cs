namespace AxleTelemetry.Service.Sharding;

/// <summary>A shard was asked something that has ended: nobody may look at its state any more.</summary>
internal sealed class ShardNotRunningException(string shard, string why) : Exception($"Shard '{shard}' is not running: {why}");
