using AxleTelemetry.Storage;

namespace AxleTelemetry.Service.Sharding;

/// <summary>A shard with its journal, for the thread that owns both.</summary>
/// <param name="Name">Name of the shard.</param>
/// <param name="Shard">The shard.</param>
/// <param name="Journal">Its journal.</param>
/// <param name="House">What keeps the journal small.</param>
/// <param name="Tell">Receives changes, one line in a log each.</param>
internal sealed record ShardPlace(string Name, Shard Shard, Journal Journal, HouseKeeping House, Action<ShardNotice> Tell);
