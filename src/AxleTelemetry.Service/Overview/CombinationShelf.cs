using System.Collections.Concurrent;
using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Places;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Drives;
using AxleTelemetry.Service.Series;
using AxleTelemetry.Service.Sharding;

namespace AxleTelemetry.Service.Overview;

/// <summary>
/// Combinations of vehicles as they were described when a row of history was written, to name its parts by; kept, as the same ones are asked
/// for again and again. For any thread.
/// </summary>
internal sealed class CombinationShelf
{
    private const int Most = 10_000, MostLimits = 500;
    private readonly ConcurrentDictionary<string, Combination?> _kept = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<string, KnownLimits?> _limits = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<string, KnownMargins?> _margins = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<string, ImmutableArray<FleetConfiguration>> _logs = new(StringComparer.Ordinal);

    /// <summary>The combination; <c>null</c> where it cannot be told any more.</summary>
    public async ValueTask<Combination?> OfAsync(ShardDesk desk, ImmutableArray<LaneMember> members, CancellationToken cancel)
    {
        var key = KeyOf(members);
        if (_kept.TryGetValue(key, out var known)) return known;
        if (_kept.Count > Most) _kept.Clear();
        return _kept[key] = Make(members, await LogAsync(desk, members.Max(m => VehicleVersions.Configuration(m.Version)), cancel));
    }

    /// <summary>The limits of a combination as they were set when a row of history was written; <c>null</c> where that cannot be told any more.</summary>
    public ValueTask<KnownLimits?> LimitsAsync(ShardDesk desk, ImmutableArray<LaneMember> members, CancellationToken cancel) => OfLawAsync(_limits, (c, law) => new KnownLimits(c, law), desk, members, cancel);

    /// <summary>The same of limits that are neither of one axle nor of all that stands on the road.</summary>
    public ValueTask<KnownMargins?> MarginsAsync(ShardDesk desk, ImmutableArray<LaneMember> members, CancellationToken cancel) => OfLawAsync(_margins, (c, law) => new KnownMargins(c, law), desk, members, cancel);

    private async ValueTask<T?> OfLawAsync<T>(ConcurrentDictionary<string, T?> kept, Func<Combination, LaneLaw, T> make, ShardDesk desk, ImmutableArray<LaneMember> members, CancellationToken cancel)
        where T : class
    {
        var key = KeyOf(members);
        if (kept.TryGetValue(key, out var known)) return known;
        if (kept.Count > MostLimits) kept.Clear();
        var number = VehicleVersions.Configuration(members[0].Version);
        return kept[key] = await OfAsync(desk, members, cancel) is { } combination && ConfigurationOf(members[0], await LogAsync(desk, number, cancel))?.Find(members[0].Vehicle.Fleet) is { } fleet
            ? make(combination, LaneLaw.ByPlace(combination, fleet.Book, fleet.Trip, CountryMap.Shipped, fleet.Permits)) : null;
    }

    private static string KeyOf(ImmutableArray<LaneMember> members) => string.Join('/', members.Select(m => $"{m.Vehicle.Fleet}:{m.Vehicle.Id}:{VehicleVersions.Configuration(m.Version)}"));

    // An answer waits for its shard to end a batch: asked for each vehicle anew, a listener would lag by as many batches as there are vehicles.
    private async ValueTask<ImmutableArray<FleetConfiguration>> LogAsync(ShardDesk desk, long number, CancellationToken cancel)
    {
        if (_logs.TryGetValue(desk.Name, out var known) && known.Length >= number) return known;
        return _logs[desk.Name] = await desk.AskAsync(s => Enumerable.Range(1, s.Log.Latest.Number).Select(n => s.Log.Number(n).Configuration).ToImmutableArray(), cancel);
    }

    /// <summary>The combination of vehicles as a log of configurations describes them; <c>null</c> where it cannot be told any more. Of the log one may be unreadable.</summary>
    public static Combination? Make(ImmutableArray<LaneMember> members, IReadOnlyList<FleetConfiguration?> log)
    {
        if (members.IsEmpty || members.Any(m => ConfigurationOf(m, log) is null)) return null;
        ImmutableArray<(string Id, VehicleDescription? Described)> row = [.. members.Select(m => (m.Vehicle.Id, Describe(m, log)))];
        return row[0].Described is not null && Combination.Couple(StandInTrailer.Fill(row)) is CouplingResult.Coupled coupled ? coupled.Combination : null;
    }

    private static FleetConfiguration? ConfigurationOf(LaneMember member, IReadOnlyList<FleetConfiguration?> log) =>
        VehicleVersions.Configuration(member.Version) is var number && number > log.Count ? null : log[number - 1];

    private static VehicleDescription? Describe(LaneMember member, IReadOnlyList<FleetConfiguration?> log) =>
        ConfigurationOf(member, log)?.Find(member.Vehicle.Fleet)?.Vehicles.FirstOrDefault(v => v.Description.Id == member.Vehicle.Id)?.Description;
}
