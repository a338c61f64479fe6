using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Places;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Sharding;

namespace AxleTelemetry.Service.Series;

/// <summary>What rows of a shard are read by: vehicles and limits as they were set when the row was written. Kept, as the same ones come again and again. For one thread at a time.</summary>
internal sealed class RowShelf(Func<CancellationToken, Task<ImmutableArray<FleetConfiguration>>> log)
{
    private const int Most = 10_000;
    private readonly Dictionary<string, RowPoints?> _kept = new(StringComparer.Ordinal);
    private ImmutableArray<FleetConfiguration> _log = [];

    /// <summary>The shelf of a shard.</summary>
    public static RowShelf Of(ShardDesk desk) =>
        new(cancel => desk.AskAsync(s => Enumerable.Range(1, s.Log.Latest.Number).Select(n => s.Log.Number(n).Configuration).ToImmutableArray(), cancel));

    /// <summary>How rows of these vehicles become points; <c>null</c> where they cannot be told any more.</summary>
    public async ValueTask<RowPoints?> OfAsync(ImmutableArray<LaneMember> members, CancellationToken cancel)
    {
        var key = string.Join('/', members.Select(m => $"{m.Vehicle.Fleet}:{m.Vehicle.Id}:{VehicleVersions.Configuration(m.Version)}"));
        if (_kept.TryGetValue(key, out var known)) return known;
        if (_kept.Count >= Most) _kept.Clear();
        if (members.Max(m => VehicleVersions.Configuration(m.Version)) > _log.Length) _log = await log(cancel);
        return _kept[key] = Make(members);
    }

    private RowPoints? Make(ImmutableArray<LaneMember> members)
    {
        if (CombinationShelf.Make(members, _log) is not { } combination) return null;
        var number = (int)VehicleVersions.Configuration(members[0].Version);
        if (_log[number - 1].Find(members[0].Vehicle.Fleet) is not { } fleet) return null;
        return new RowPoints(combination, new KnownLimits(combination, LaneLaw.ByPlace(combination, fleet.Book, fleet.Trip, CountryMap.Shipped, fleet.Permits)));
    }
}
