using System.Collections.Immutable;
using AxleTelemetry.Service.Sharding;

namespace AxleTelemetry.Service.Overview;

/// <summary>Asks shards for the states of many vehicles, a few at a time: a page of a large fleet must not keep a batch waiting.</summary>
internal static class FleetAsking
{
    private const int Slice = 64;

    /// <summary>The vehicles of shards, by name.</summary>
    public static async Task<ImmutableArray<(ShardDesk Desk, VehicleName Name)>> NamesAsync(ImmutableArray<ShardDesk> desks, CancellationToken cancel)
    {
        var all = new List<(ShardDesk Desk, VehicleName Name)>();
        foreach (var desk in desks)
        {
            var names = await desk.AskAsync(s => s.Vehicles.ToImmutableArray(), cancel);
            all.AddRange(names.Select(n => (desk, n)));
        }

        return [.. all.OrderBy(p => p.Name)];
    }

    /// <summary>States of vehicles, in the order of their names; one that is gone meanwhile is left out.</summary>
    public static async Task<ImmutableArray<VehicleState>> StatesAsync(IEnumerable<(ShardDesk Desk, VehicleName Name)> vehicles, CancellationToken cancel)
    {
        var states = ImmutableArray.CreateBuilder<VehicleState>();
        foreach (var desk in vehicles.GroupBy(v => v.Desk, v => v.Name))
        {
            foreach (var slice in desk.Chunk(Slice))
                states.AddRange(await desk.Key.AskAsync(s => slice.Select(s.Find).OfType<VehicleState>().ToImmutableArray(), cancel));
        }

        states.Sort((a, b) => a.Name.CompareTo(b.Name));
        return states.ToImmutable();
    }
}
