using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>
/// What a ledger may forget. A vehicle's own lane needs its newest statement at the oldest moment it can be run again from,
/// and all since. Others need older ones too: that a trailer was taken from them. And whoever was silent
/// may come with a claim of long ago, which ends at the next one after it: so all are kept for a while longer.
/// </summary>
internal sealed partial class FleetLedger
{
    private static readonly (long Couplings, long Versions) Nothing = (long.MinValue, long.MinValue);

    private readonly Dictionary<VehicleName, (long Couplings, long Versions)> _keptFrom = [];
    private readonly long _remember = (long)(1000 * remember);
    private Func<VehicleName, long> _oldest = _ => long.MinValue;

    /// <summary>Forgets what a vehicle said, and its versions, where no answer can depend on them any more.</summary>
    /// <param name="vehicle">The vehicle.</param>
    /// <param name="oldest">The oldest moment that will be asked for on behalf of a unit; the least number where it may be any.</param>
    public void Prune(VehicleName vehicle, Func<VehicleName, long> oldest)
    {
        _oldest = oldest;
        if (_couplings.TryGetValue(vehicle, out var own) && own.Count > 1) PruneCouplings(vehicle, own);
        if (_versions.TryGetValue(vehicle, out var versions) && versions.Count > 1) PruneVersions(vehicle, versions);
        PrunePartings(vehicle);
    }

    private void PruneCouplings(VehicleName by, SortedList<long, ImmutableArray<VehicleName>> own)
    {
        var newest = IndexAfter(own, Remembered(_oldest(by))) - 1;
        if (newest <= 0) return;
        _keptFrom[by] = _keptFrom.GetValueOrDefault(by, Nothing) with { Couplings = own.Keys[newest] };
        for (var i = newest - 1; i >= 0; i--)
            if (!OthersNeed(own.Keys[i], own.Values[i]))
                Forget(by, own, i);
    }

    private void PruneVersions(VehicleName of, SortedList<long, int> own)
    {
        var newest = IndexAfter(own, Remembered(OldestOfUsers(of))) - 1;
        if (newest <= 1) return;
        _keptFrom[of] = _keptFrom.GetValueOrDefault(of, Nothing) with { Versions = own.Keys[newest] };
        // The first stays: no moment is left without a version that had one.
        for (var i = newest - 1; i > 0; i--) own.RemoveAt(i);
    }

    private long Remembered(long oldest) => oldest < long.MinValue + _remember ? long.MinValue : oldest - _remember;

    /// <summary>The oldest moment at which somebody may ask for a vehicle's version: its own lane, or one that it hangs in.</summary>
    private long OldestOfUsers(VehicleName vehicle)
    {
        var oldest = _oldest(vehicle);
        foreach (var claimer in Claimers(vehicle))
            if (FirstClaim(claimer, vehicle, KeyAt(claimer, _oldest(claimer))) is not null)
                oldest = Math.Min(oldest, _oldest(claimer));
        return oldest;
    }

    /// <summary>True for a statement that came when later ones of its vehicle had already taken its place, and that nobody needs: it is forgotten at once.</summary>
    private bool WasSuperseded(CouplingStatement statement)
    {
        var (by, at) = (statement.By, statement.At.UnixMilliseconds);
        if (at >= _keptFrom.GetValueOrDefault(by, Nothing).Couplings || OthersNeed(at, statement.Trailers)) return false;
        Forget(by, _couplings[by], _couplings[by].IndexOfKey(at));
        return true;
    }

    private bool OthersNeed(long at, ImmutableArray<VehicleName> trailers)
    {
        foreach (var trailer in trailers)
            if (TookIt(trailer, at))
                return true;
        return false;
    }

    /// <summary>Until this claim a trailer was in a lane that can still be run again from before, or that still says it is.</summary>
    private bool TookIt(VehicleName trailer, long at) =>
        at > long.MinValue && HolderAt(trailer, at - 1) is { } holder && KeyAt(holder, at - 1) >= KeyAt(holder, _oldest(holder));

    /// <summary>Moment of the statement that holds at a moment; the least number where there is none.</summary>
    private long KeyAt(VehicleName by, long at) =>
        _couplings.TryGetValue(by, out var own) && IndexAfter(own, at) is var i and > 0 ? own.Keys[i - 1] : long.MinValue;

    private void Forget(VehicleName by, SortedList<long, ImmutableArray<VehicleName>> own, int index)
    {
        var trailers = own.Values[index];
        own.RemoveAt(index);
        foreach (var trailer in trailers)
            if (FirstClaim(by, trailer, long.MinValue) is null && _claimers.TryGetValue(trailer, out var claimers) && claimers.Remove(by) && claimers.Count == 0)
                _claimers.Remove(trailer);
    }
}
