using System.Collections.Immutable;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>
/// What was aboard of trailers when they left a unit, as the rows in force say. A lane that takes one later asks here and never the lane before it, which may be
/// stepped no further yet, or be run again; whoever asked too early is named by <see cref="JoinedSince"/> when the row comes.
/// </summary>
internal sealed partial class FleetLedger
{
    private const long LooksBack = (long)(1000 * StandingWord.LooksBack);

    private readonly Dictionary<VehicleName, SortedList<long, ImmutableArray<PartedTrailer>>> _partings = [];

    /// <summary>A row is in force: it takes the place of another of its unit and moment.</summary>
    /// <returns>Everything that may read otherwise now.</returns>
    public ImmutableArray<PartedTrailer> Enter(HistoryRow.Parted row)
    {
        var (by, at) = (row.Key.Unit, row.Key.At.UnixMilliseconds);
        var before = Withdraw(by, at);
        Enter(by, at, row.Trailers);
        return before.AddRange(row.Trailers);
    }

    /// <summary>A row is in force no more.</summary>
    /// <returns>What it held.</returns>
    public ImmutableArray<PartedTrailer> Withdraw(VehicleName by, long at) =>
        _partings.TryGetValue(by, out var own) && own.Remove(at, out var gone) ? gone : [];

    /// <summary>What was aboard of a trailer when it last left a unit, up to a moment; all zero where nothing is known, it is long ago, or other settings held.</summary>
    public BodyPayload AboardAt(LaneMember trailer, long at)
    {
        (long At, PartedTrailer Parted)? last = null;
        // They come in the order of their names: of two at one moment the later one counts.
        foreach (var claimer in Claimers(trailer.Vehicle))
            if (PartedBy(claimer, trailer.Vehicle, at) is { } parted && (last is not { } other || parted.At >= other.At))
                last = parted;
        return last is { } found && found.Parted.Trailer == trailer ? found.Parted.Payload : default;
    }

    /// <summary>All whose lanes took a trailer at a moment or later, and began with what was aboard of it then, with when they first did.</summary>
    public IEnumerable<(VehicleName Unit, long At)> JoinedSince(VehicleName trailer, long at)
    {
        foreach (var claimer in Claimers(trailer))
            if (Joined(claimer, trailer, at) is { } joined)
                yield return (claimer, joined);
    }

    private static void Write(SortedList<long, ImmutableArray<PartedTrailer>> partings, ByteWriter to)
    {
        to.Int(partings.Count);
        foreach (var (at, trailers) in partings)
        {
            to.Long(at);
            PartedTrailer.Write(trailers, to);
        }
    }

    private void ReadPartings(VehicleName by, ref ByteReader from)
    {
        // Nothing was written of them by earlier releases.
        if (from.Left == 0) return;
        for (var count = from.Count(); count > 0; count--) Enter(by, from.Long(), PartedTrailer.Read(ref from));
    }

    private void Enter(VehicleName by, long at, ImmutableArray<PartedTrailer> trailers)
    {
        if (!_partings.TryGetValue(by, out var own)) _partings.Add(by, own = []);
        own[at] = trailers;
    }

    private (long At, PartedTrailer Parted)? PartedBy(VehicleName by, VehicleName trailer, long at)
    {
        if (!_partings.TryGetValue(by, out var own)) return null;
        for (var i = IndexAfter(own, at) - 1; i >= 0 && own.Keys[i] >= at - LooksBack; i--)
            foreach (var parted in own.Values[i])
                if (parted.Trailer.Vehicle == trailer)
                    return (own.Keys[i], parted);
        return null;
    }

    /// <summary>The same changes, one after another, that take a lane through time.</summary>
    private long? Joined(VehicleName by, VehicleName trailer, long at)
    {
        var after = at - 1;
        var before = MembersAt(by, after);
        for (var next = Next(by, after); next is { } change && change <= at + LooksBack; next = Next(by, change))
        {
            var members = MembersAt(by, change);
            foreach (var member in members)
                if (member.Vehicle == trailer && !before.Contains(member))
                    return change;
            before = members;
        }

        return null;
    }

    /// <summary>Forgets what is as long ago as the couplings that are forgotten.</summary>
    private void PrunePartings(VehicleName by)
    {
        if (!_partings.TryGetValue(by, out var own)) return;
        for (var oldest = Remembered(_oldest(by)); own.Count > 0 && own.Keys[0] <= oldest;) own.RemoveAt(0);
    }

}
