using System.Collections.Immutable;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>
/// Who said when what hangs on them, and from when which version of a vehicle's settings counts. Asked by moment, so that the
/// answer depends on what was said and not on when the word came. Both hold for what comes after their moment.
/// </summary>
/// <param name="remember">How long what was said is kept behind the oldest moment that its vehicle can be run again from, s.</param>
/// <param name="canRun">Whether vehicles in their versions can be one lane.</param>
internal sealed partial class FleetLedger(double remember, Func<ImmutableArray<LaneMember>, bool> canRun)
{
    private readonly Dictionary<VehicleName, SortedList<long, ImmutableArray<VehicleName>>> _couplings = [];
    private readonly Dictionary<VehicleName, SortedList<long, int>> _versions = [];
    private readonly Dictionary<VehicleName, SortedSet<VehicleName>> _claimers = [];

    /// <summary>Enters a statement of what hangs on a vehicle. Of two for one moment the greater counts.</summary>
    public FactOutcome Enter(CouplingStatement statement)
    {
        if (!_couplings.TryGetValue(statement.By, out var own)) _couplings.Add(statement.By, own = []);
        var outcome = FactOutcome.Entered;
        if (own.TryGetValue(statement.At.UnixMilliseconds, out var before))
        {
            var order = Compare(before, statement.Trailers);
            if (order == 0) return FactOutcome.Repeated;
            if (order > 0) return FactOutcome.ConflictLost;
            outcome = FactOutcome.ConflictWon;
        }

        own[statement.At.UnixMilliseconds] = statement.Trailers;
        foreach (var trailer in statement.Trailers)
        {
            if (!_claimers.TryGetValue(trailer, out var claimers)) _claimers.Add(trailer, claimers = []);
            claimers.Add(statement.By);
        }

        return WasSuperseded(statement) ? FactOutcome.TooLate : outcome;
    }

    /// <summary>Enters a version. Of two for one moment the greater counts.</summary>
    public FactOutcome Enter(SettingsVersion version)
    {
        if (!_versions.TryGetValue(version.Of, out var own)) _versions.Add(version.Of, own = []);
        var outcome = FactOutcome.Entered;
        if (own.TryGetValue(version.From.UnixMilliseconds, out var before))
        {
            if (before == version.Version) return FactOutcome.Repeated;
            if (before > version.Version) return FactOutcome.ConflictLost;
            outcome = FactOutcome.ConflictWon;
        }
        else if (version.From.UnixMilliseconds < _keptFrom.GetValueOrDefault(version.Of, Nothing).Versions)
        {
            return FactOutcome.TooLate;
        }

        own[version.From.UnixMilliseconds] = version.Version;
        return outcome;
    }

    /// <summary>The vehicles of a unit after everything that was said up to a moment, it included.</summary>
    public ImmutableArray<LaneMember> MembersAt(VehicleName unit, long at)
    {
        var members = ImmutableArray.CreateBuilder<LaneMember>();
        members.Add(new LaneMember(unit, VersionAt(unit, at)));
        foreach (var trailer in StatedAt(unit, at))
        {
            // Another vehicle claimed it: whatever hangs here from that trailer on is gone.
            if (HolderAt(trailer, at) != unit) break;
            members.Add(new LaneMember(trailer, VersionAt(trailer, at)));
        }

        // As described in these versions they may not fit together any more: what does fit goes on.
        while (members.Count > 1 && !canRun(members.ToImmutable())) members.RemoveAt(members.Count - 1);
        return members.ToImmutable();
    }

    /// <summary>What is contested of the trailers that a unit says hang on it, after everything that was said up to a moment.</summary>
    public TrailerClaims ClaimsOf(VehicleName unit, long at)
    {
        var stated = StatedAt(unit, at);
        if (stated.Any(t => HolderAt(t, at) != unit)) return TrailerClaims.Lost;
        return stated.Any(t => Claimers(t).Any(c => c != unit && StatedAt(c, at).Contains(t))) ? TrailerClaims.Contested : TrailerClaims.Undisputed;
    }

    /// <summary>What a vehicle said last of what hangs on it.</summary>
    public ImmutableArray<VehicleName> Stated(VehicleName unit) => StatedAt(unit, long.MaxValue);

    /// <summary>Every trailer that a vehicle said hangs on it, at a moment or later.</summary>
    public IEnumerable<VehicleName> TrailersSince(VehicleName unit, long at) => !_couplings.TryGetValue(unit, out var own) ? []
        : own.Values.Skip(IndexAfter(own, at) - 1).SelectMany(t => t).Distinct();

    /// <summary>The next moment after another at which the vehicles of a unit, or their versions, may change; <c>null</c> where nothing was said.</summary>
    public long? Next(VehicleName unit, long after)
    {
        var next = Sooner(NextKey(_couplings, unit, after), NextKey(_versions, unit, after));
        foreach (var trailer in StatedAt(unit, after))
        {
            next = Sooner(next, NextKey(_versions, trailer, after));
            foreach (var claimer in Claimers(trailer)) next = Sooner(next, NextKey(_couplings, claimer, after));
        }

        return next;
    }

    /// <summary>The unit whose lane takes a trailer's readings after a moment; <c>null</c> for none.</summary>
    public VehicleName? UnitOf(VehicleName trailer, long at) =>
        HolderAt(trailer, at) is { } holder && MembersAt(holder, at).Any(m => m.Vehicle == trailer) ? holder : null;

    /// <summary>How many trailers anybody claims, or did.</summary>
    public int CountClaimed => _claimers.Count;

    /// <summary>All who ever claimed a trailer.</summary>
    public IEnumerable<VehicleName> Claimers(VehicleName trailer) => _claimers.GetValueOrDefault(trailer) ?? [];

    /// <summary>The first moment from another on at which a vehicle says that a trailer hangs on it; <c>null</c> for never.</summary>
    public long? FirstClaim(VehicleName by, VehicleName trailer, long from)
    {
        var own = _couplings[by];
        for (var i = from == long.MinValue ? 0 : IndexAfter(own, from - 1); i < own.Count; i++)
            if (own.Values[i].Contains(trailer))
                return own.Keys[i];
        return null;
    }

    /// <summary>
    /// The first moment from another on from which a trailer may join the lane of one who claims it; <c>null</c> for never. Where it hangs there and does not fit,
    /// it joins by a version, at once for all that is known here.
    /// </summary>
    public long? JoinsFrom(VehicleName by, VehicleName trailer, long at) =>
        HolderAt(trailer, at) == by && UnitOf(trailer, at) is null ? at : FirstClaim(by, trailer, at);

    /// <summary>
    /// The last moment at which what was said may have changed the vehicles of a unit: its own last statement, or another's last claim of a
    /// trailer that it ever had, or the end of that claim; <c>null</c> for never. Its lane must be stepped this far, though it says nothing more itself.
    /// </summary>
    public long? LastChange(VehicleName unit)
    {
        if (!_couplings.TryGetValue(unit, out var own) || own.Count == 0) return null;
        var last = own.Keys[^1];
        foreach (var trailer in own.Values.SelectMany(t => t).Distinct())
            foreach (var claimer in Claimers(trailer))
                for (var i = _couplings[claimer].Count - 1; i >= 0 && _couplings[claimer].Keys[i] > last; i--)
                    // A claim, and a word that lets go of one.
                    if (_couplings[claimer].Values[i].Contains(trailer) || i > 0 && _couplings[claimer].Values[i - 1].Contains(trailer))
                        last = _couplings[claimer].Keys[i];
        return last;
    }

    /// <summary>Everybody whose lane may change by what a vehicle said at a moment.</summary>
    public IEnumerable<VehicleName> Concerned(VehicleName by, long at)
    {
        var own = _couplings[by];
        var index = own.IndexOfKey(at);
        var trailers = index > 0 ? own.Values[index].AddRange(own.Values[index - 1]) : own.Values[index];
        return trailers.SelectMany(Claimers).Append(by).Distinct();
    }

    /// <summary>Writes what one vehicle said of its trailers, its versions, and what was aboard of those that left it.</summary>
    public void Write(VehicleName vehicle, ByteWriter to)
    {
        var couplings = _couplings.GetValueOrDefault(vehicle) ?? [];
        to.Int(couplings.Count);
        foreach (var (at, trailers) in couplings)
        {
            to.Long(at);
            to.Int(trailers.Length);
            foreach (var trailer in trailers) Name(trailer, to);
        }

        var versions = _versions.GetValueOrDefault(vehicle) ?? [];
        to.Int(versions.Count);
        foreach (var (from, version) in versions)
        {
            to.Long(from);
            to.Int(version);
        }

        Write(_partings.GetValueOrDefault(vehicle) ?? [], to);
    }

    /// <summary>Reads what was written of a vehicle.</summary>
    public void Read(VehicleName vehicle, ref ByteReader from)
    {
        for (var count = from.Count(); count > 0; count--)
        {
            var at = new Moment(from.Long());
            var trailers = ImmutableArray.CreateBuilder<VehicleName>();
            for (var left = from.Count(); left > 0; left--) trailers.Add(Name(ref from));
            Enter(new CouplingStatement(vehicle, at, trailers.ToImmutable()));
        }

        for (var count = from.Count(); count > 0; count--)
            Enter(new SettingsVersion(vehicle, new Moment(from.Long()), from.Int()));
        ReadPartings(vehicle, ref from);
    }

    internal static void Name(VehicleName name, ByteWriter to)
    {
        to.Text(name.Fleet);
        to.Text(name.Id);
    }

    internal static VehicleName Name(ref ByteReader from) => new(from.Text(), from.Text());

    private ImmutableArray<VehicleName> StatedAt(VehicleName unit, long at) =>
        _couplings.TryGetValue(unit, out var own) && IndexAfter(own, at) is var i and > 0 ? own.Values[i - 1] : [];

    private int VersionAt(VehicleName vehicle, long at) =>
        _versions.TryGetValue(vehicle, out var own) && IndexAfter(own, at) is var i and > 0 ? own.Values[i - 1] : 0;

    /// <summary>Who claimed it last, unless they let it go since.</summary>
    private VehicleName? HolderAt(VehicleName trailer, long at)
    {
        (long At, VehicleName By)? last = null;
        foreach (var claimer in Claimers(trailer))
        {
            var own = _couplings[claimer];
            var i = IndexAfter(own, at) - 1;
            while (i >= 0 && !own.Values[i].Contains(trailer)) i--;
            // Of two who claim it at one moment, the one named later: they come in the order of their names.
            if (i >= 0 && (last is not { } other || own.Keys[i] >= other.At)) last = (own.Keys[i], claimer);
        }

        return last is { } claim && StatedAt(claim.By, at).Contains(trailer) ? claim.By : null;
    }

    private static long? NextKey<T>(Dictionary<VehicleName, SortedList<long, T>> lists, VehicleName of, long after) =>
        lists.TryGetValue(of, out var own) && IndexAfter(own, after) is var i && i < own.Count ? own.Keys[i] : null;

    private static long? Sooner(long? a, long? b) => a is not { } x ? b : b is { } y && y < x ? y : x;

    private static int IndexAfter<T>(SortedList<long, T> list, long at)
    {
        int low = 0, high = list.Count;
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (list.Keys[middle] <= at) low = middle + 1;
            else high = middle;
        }

        return low;
    }

    private static int Compare(ImmutableArray<VehicleName> a, ImmutableArray<VehicleName> b)
    {
        for (var i = 0; i < a.Length && i < b.Length; i++)
            if (a[i].CompareTo(b[i]) is var order and not 0)
                return order;
        return a.Length.CompareTo(b.Length);
    }
}
