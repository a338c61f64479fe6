using System.Collections.Concurrent;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Sharding;

namespace AxleTelemetry.Service.Overview;

/// <summary>The shelf of each shard's present configuration.</summary>
internal sealed class CombinationShelves
{
    private readonly ConcurrentDictionary<ShardDesk, CombinationShelf> _kept = new();

    public async Task<CombinationShelf> OfAsync(ShardDesk desk, CancellationToken cancel)
    {
        var present = await desk.AskAsync(s => s.Configuration, cancel);
        return _kept.AddOrUpdate(desk, _ => new CombinationShelf(present), (_, kept) => kept.Configuration == present ? kept : new CombinationShelf(present));
    }
}
