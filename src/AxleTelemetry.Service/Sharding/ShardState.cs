using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Sharding;

/// <summary>Everything a shard knows. Belongs to the thread of the shard; what is handed out to be looked at is a copy.</summary>
internal sealed class ShardState
{
    private readonly Dictionary<VehicleName, FollowedVehicle> _followed = [];
    private readonly Dictionary<VehicleName, bool> _powered = [];

    public ShardState(IShardStore store, ShardOptions options)
    {
        Options = options;
        Setups = new LaneSetups(Log);
        Readings = new StoredReadings(Log);
        Archive = new RawArchive(store, Readings);
        History = new FleetHistory(Archive, new HistorySettings { Setup = Setups.Of, CanRun = members => Setups.WhyNot(members) is null, IsPowered = IsPowered, Horizon = options.Horizon.TotalSeconds });
        AlertDesk = new AlertDesk(options.Alerts, unit => History.LaneOf(unit), members => Setups.Of(members).Combination);
        Releases = new ReleaseClock(options.StreamWait);
        Loose = new LooseDesk(this);
        Corrections = new CorrectionClock(options.CorrectionQuiet, options.CorrectionLongest);
    }

    /// <summary>The configuration in force.</summary>
    public FleetConfiguration Configuration => Log.Latest.Configuration;

    /// <summary>The alerts.</summary>
    public AlertBook Alerts => AlertDesk.Book;

    /// <summary>Every vehicle described or heard of, by name.</summary>
    public IEnumerable<VehicleName> Vehicles => _followed.Keys
        .Union(Configuration.Fleets.SelectMany(f => f.Vehicles.Select(v => new VehicleName(f.Name, v.Description.Id)))).Order();

    /// <summary>Messages of vehicles that nobody described.</summary>
    public UnknownVehicles Unknown { get; } = new();

    /// <summary>What was refused since the shard was opened.</summary>
    public RefusalCounter Refusals { get; } = new();

    /// <summary>Units whose lane stopped by a fault of ours, and why.</summary>
    public SortedDictionary<VehicleName, string> Stopped { get; } = [];

    internal ShardOptions Options { get; }

    internal ConfigurationLog Log { get; } = new();

    internal LaneSetups Setups { get; }

    internal StoredReadings Readings { get; }

    internal RawArchive Archive { get; }

    internal FleetHistory History { get; }

    internal AlertDesk AlertDesk { get; }

    internal LooseDesk Loose { get; }

    internal ReleaseClock Releases { get; }

    internal CorrectionClock Corrections { get; }

    /// <summary>A vehicle as it stands; <c>null</c> where it is neither described nor was ever.</summary>
    public VehicleState? Find(VehicleName vehicle)
    {
        if (Log.Known(vehicle) is not { } described) return null;
        var followed = _followed.GetValueOrDefault(vehicle);
        var newest = History.NewestOf(vehicle);
        var lane = LaneOf(vehicle);
        return new VehicleState
        {
            Name = vehicle,
            Description = described.Vehicle,
            IsDescribed = Log.Latest.Find(vehicle) is not null,
            NewestReading = newest,
            HeardAt = followed?.HeardAt,
            Online = followed?.Online,
            Readings = History.CountsOf(vehicle),
            Counts = followed?.Counts ?? new VehicleCounts(),
            Behind = Behind(vehicle, described, newest),
            Members = lane is null ? [vehicle] : [.. lane.Setup.Combination.Vehicles.Select(v => new VehicleName(vehicle.Fleet, v.Id))],
            View = lane?.View(),
            NotCoupled = described.Vehicle.Kind.IsPowered() ? WhyWithout(vehicle)
                : newest is not null && Behind(vehicle, described, newest) is null ? "It is heard, but no vehicle says that it hangs on it: nothing is stated of its load."
                : null,
            CorrectedFrom = History.MarkOf(vehicle),
            StoppedBy = Stopped.GetValueOrDefault(vehicle),
        };
    }

    private VehicleName? Behind(VehicleName vehicle, Described described, Moment? newest) =>
        described.Vehicle.Kind.IsPowered() || newest is not { } at ? null : History.UnitOf(vehicle, at);

    // Only the first that is missing: what hangs behind it is missing with it.
    private string? WhyWithout(VehicleName unit)
    {
        var stated = History.StatedBy(unit);
        ImmutableArray<VehicleName> members = [.. History.MembersOf(unit)];
        if (stated.IsEmpty || members.Length > stated.Length) return null;
        var missing = stated[members.Length - 1];
        if (History.UnitOf(missing, new Moment(long.MaxValue)) is { } other) return $"'{missing.Id}' was coupled to '{other.Id}' since.";
        return Combination.Couple(StandInTrailer.Fill([.. members.Append(missing).Select(m => (m.Id, Log.Known(m)?.Vehicle))])) is CouplingResult.Impossible impossible
            ? impossible.Reason : null;
    }

    /// <summary>What drivers may be shown now, by unit, with the vehicles that it is about.</summary>
    public ImmutableArray<(VehicleName Unit, DriverAdvice Advice, Combination Vehicles)> Advices(Moment now)
    {
        var given = ImmutableArray.CreateBuilder<(VehicleName, DriverAdvice, Combination)>();
        foreach (var name in _followed.Keys)
            if (!Stopped.ContainsKey(name) && LaneOf(name) is { } lane && lane.Advise(now) is { } advice) given.Add((name, advice, lane.Setup.Combination));
        return given.ToImmutable();
    }

    /// <summary>A described vehicle as its messages come.</summary>
    internal FollowedVehicle Follow(VehicleName name, Described described)
    {
        if (!_followed.TryGetValue(name, out var vehicle)) _followed.Add(name, vehicle = new FollowedVehicle(name, described));
        return vehicle;
    }

    /// <summary>A vehicle that was heard of; <c>null</c> for another.</summary>
    internal FollowedVehicle? Followed(VehicleName name) => _followed.GetValueOrDefault(name);

    /// <summary>Vehicles that were heard of, in no order.</summary>
    internal IEnumerable<FollowedVehicle> AllFollowed => _followed.Values;

    /// <summary>How many were heard of.</summary>
    internal int CountFollowed => _followed.Count;

    /// <summary>What is described has changed.</summary>
    internal void Described()
    {
        _powered.Clear();
        foreach (var vehicle in _followed.Values)
            if (Log.Known(vehicle.Name) is { } described)
                vehicle.Described = described;
    }

    // A lane that lost its state is being restored: what it says now is nothing.
    private Lane? LaneOf(VehicleName vehicle) => History.IsRestored(vehicle) ? History.LaneOf(vehicle) : null;

    private bool IsPowered(VehicleName vehicle)
    {
        if (_powered.TryGetValue(vehicle, out var known)) return known;
        var powered = Log.Known(vehicle)?.Vehicle.Kind.IsPowered() ?? false;
        _powered.Add(vehicle, powered);
        return powered;
    }
}
