using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>
/// The lanes of a fleet over inputs that come in any order. What is in order is stepped when it is released; what comes late
/// marks its unit, and a second run puts the rows right. The rows in force are a function of the set of what was taken.
/// </summary>
/// <remarks>For one thread. After an exception from a step the unit is to be restored from what was last written: a broken rule of ours.</remarks>
public sealed class FleetHistory(IHistoryArchive archive, HistorySettings settings)
{
    /// <summary>The moment of a coupling or version that holds before anything is heard.</summary>
    public static Moment Beginning { get; } = new(long.MinValue);

    private readonly SortedDictionary<VehicleName, LaneHistory> _lanes = [];
    private readonly SortedDictionary<VehicleName, RecentReadings> _recent = [];
    private readonly FleetLedger _ledger = new();
    private readonly ByteWriter _buffer = new();

    /// <summary>Units that were heard of, by name.</summary>
    public IEnumerable<VehicleName> Units => _lanes.Keys;

    /// <summary>Units whose history is to be corrected, oldest moment first.</summary>
    public IEnumerable<(VehicleName Unit, Moment From)> ToBeCorrected =>
        _lanes.Where(l => l.Value.CorrectFrom is not null).Select(l => (l.Key, From: new Moment(l.Value.CorrectFrom!.Value))).OrderBy(l => l.From);

    /// <summary>True while a unit's history is to be corrected, or being corrected.</summary>
    public bool IsBehind(VehicleName unit) => _lanes.GetValueOrDefault(unit) is { OldestMark: not null };

    /// <summary>The lane of a unit as it stands; <c>null</c> before its first step. To be looked at only.</summary>
    public Lanes.Lane? LaneOf(VehicleName unit) => _lanes.GetValueOrDefault(unit)?.Track?.Lane;

    /// <summary>What was counted of a vehicle's readings.</summary>
    public ReadingCounts CountsOf(VehicleName vehicle) => _recent.GetValueOrDefault(vehicle)?.Counts ?? default;

    /// <summary>Moment of the latest reading of a vehicle; <c>null</c> before the first.</summary>
    public Moment? NewestOf(VehicleName vehicle) =>
        _recent.GetValueOrDefault(vehicle) is { Newest: > long.MinValue } recent ? new Moment(recent.Newest) : null;

    /// <summary>The unit whose lane takes a vehicle's readings of a moment; <c>null</c> for a trailer behind nobody.</summary>
    public VehicleName? UnitOf(VehicleName vehicle, Moment at) =>
        settings.IsPowered(vehicle) ? vehicle : _ledger.UnitOf(vehicle, at.UnixMilliseconds == long.MinValue ? long.MinValue : at.UnixMilliseconds - 1);

    /// <summary>Takes a reading, in whatever order. The archive holds those taken before, not yet this one.</summary>
    public ReadingOutcome Take(VehicleName vehicle, in Reading reading)
    {
        var recent = RecentOf(vehicle);
        if (settings.IsPowered(vehicle)) LaneOf(vehicle, out _);
        var placing = reading.At.UnixMilliseconds > recent.HeldAfter ? recent.Add(reading) : PlaceInArchive(vehicle, reading);
        var counts = recent.Counts;
        if (placing is Placing.Greater or Placing.Lesser) counts = counts with { Conflicting = counts.Conflicting + 1 };
        if (placing == Placing.Repeated) counts = counts with { Repeated = counts.Repeated + 1 };
        recent.Counts = counts;
        if (placing == Placing.Repeated) return ReadingOutcome.Repeated;
        if (placing == Placing.Lesser) return ReadingOutcome.Lesser;
        recent.NoteNewest(reading.At.UnixMilliseconds);
        var lateness = NoteLate(vehicle, reading);
        recent.Counts = lateness switch
        {
            Lateness.InTime => counts with { Taken = counts.Taken + 1 },
            Lateness.Late => counts with { Taken = counts.Taken + 1, Late = counts.Late + 1 },
            Lateness.TooLate => counts with { TooLate = counts.TooLate + 1 },
            _ => throw new InvalidOperationException("Lateness has no fourth case."),
        };
        return lateness == Lateness.InTime ? ReadingOutcome.Taken : lateness == Lateness.Late ? ReadingOutcome.Late : ReadingOutcome.TooLate;
    }

    /// <summary>Takes a statement of what hangs on a vehicle. One that is too late for its own moment holds from the oldest that can be run again.</summary>
    public FactOutcome Take(CouplingStatement statement)
    {
        LaneOf(statement.By, out _);
        var outcome = _ledger.Enter(statement);
        if (outcome is FactOutcome.Entered or FactOutcome.ConflictWon)
            foreach (var unit in _ledger.Concerned(statement.By, statement.At.UnixMilliseconds).ToList()) NoteFact(unit, statement.At.UnixMilliseconds);
        return outcome;
    }

    /// <summary>Takes a version of what is set for a vehicle.</summary>
    public FactOutcome Take(SettingsVersion version)
    {
        var outcome = _ledger.Enter(version);
        if (outcome is FactOutcome.Entered or FactOutcome.ConflictWon)
            foreach (var unit in _ledger.Claimers(version.Of).Append(version.Of)) NoteFact(unit, version.From.UnixMilliseconds);
        return outcome;
    }

    /// <summary>Nothing of a unit is waited for up to a moment: steps what there is.</summary>
    public void Release(VehicleName unit, Moment to, HistoryChange change)
    {
        LaneOf(unit, out var lane);
        var end = to.UnixMilliseconds;
        if (end <= lane.SteppedTo) return;
        lane.Track ??= Begin(unit, long.MinValue);
        var track = lane.Track;
        var pass = new LanePass(track, _ledger, Readings, (vehicle, at) => archive.WordsAt(vehicle, new Moment(at)));
        var said = new LaneSaid(change.Rows, change.Outputs);
        foreach (var reading in pass.Steps(lane.SteppedTo, end, said, at => lane.Shelf.BeforeMoment(track, at, _buffer, change.Snapshots))) _ = reading;
        lane.SteppedTo = end;
        foreach (var upTo in lane.Shelf.Prune(end, lane.OldestMark ?? long.MaxValue)) change.Drop(unit, upTo);
        foreach (var member in track.Members) RecentOf(member.Vehicle).Forget(end - (long)(1000 * settings.Remember));
    }

    /// <summary>
    /// Begins to correct a unit that <see cref="ToBeCorrected"/> names. What comes late from now on waits for the next
    /// correction. Every change handed out before is in the archive.
    /// </summary>
    public Correction Correct(VehicleName unit)
    {
        var lane = _lanes[unit];
        var from = lane.CorrectFrom ?? throw new InvalidOperationException($"Nothing of {unit} came late.");
        if (lane.Correcting is { } other) from = Math.Min(from, other);
        lane.Correcting = from;
        lane.CorrectFrom = null;
        var start = StartBefore(unit, lane, from);
        var pass = new LanePass(start.Track, _ledger,
            (vehicle, after, to) => archive.Between(vehicle, new Moment(after), new Moment(to)), (vehicle, at) => archive.WordsAt(vehicle, new Moment(at)));
        return new Correction(lane, archive, start, pass);
    }

    /// <summary>Writes everything that is not in the archive.</summary>
    public void Write(ByteWriter to)
    {
        to.Int(LaneStateCodec.Version);
        _ledger.Write(to);
        to.Int(_lanes.Count);
        foreach (var (name, lane) in _lanes)
        {
            FleetLedger.Name(name, to);
            lane.Write(to);
        }

        to.Int(_recent.Count);
        foreach (var (name, recent) in _recent)
        {
            FleetLedger.Name(name, to);
            to.Long(recent.Newest);
            foreach (var count in (ReadOnlySpan<long>)[recent.Counts.Taken, recent.Counts.Repeated, recent.Counts.Conflicting, recent.Counts.Late, recent.Counts.TooLate])
                to.Long(count);
        }
    }

    /// <summary>Reads what was written into a history that has taken nothing. False where the bytes are not whole.</summary>
    public bool Read(ref ByteReader from)
    {
        from.Int(); // Each lane says its own version again.
        _ledger.Read(ref from);
        for (var count = from.Count(); count > 0; count--)
        {
            var name = FleetLedger.Name(ref from);
            LaneOf(name, out var lane);
            lane.Read(ref from, at => Begin(name, at));
        }

        for (var count = from.Count(); count > 0; count--)
        {
            var recent = RecentOf(FleetLedger.Name(ref from));
            var newest = from.Long();
            recent.BeginAfter(newest, newest);
            recent.Counts = new ReadingCounts(from.Long(), from.Long(), from.Long(), from.Long(), from.Long());
        }

        return from.EndedWell;
    }

    private Placing PlaceInArchive(VehicleName vehicle, in Reading reading)
    {
        var greatest = double.NegativeInfinity;
        foreach (var other in archive.Between(vehicle, new Moment(reading.At.UnixMilliseconds - 1), reading.At))
            if (RecentReadings.IsSame(other, reading)) greatest = Math.Max(greatest, other.Value);
        return double.IsNegativeInfinity(greatest) ? Placing.New
            : greatest.Equals(reading.Value) ? Placing.Repeated
            : greatest > reading.Value ? Placing.Lesser
            : Placing.Greater;
    }

    private Lateness NoteLate(VehicleName vehicle, in Reading reading)
    {
        var at = reading.At.UnixMilliseconds;
        var lateness = UnitOf(vehicle, reading.At) is { } unit && _lanes.TryGetValue(unit, out var lane) ? lane.Note(at) : Lateness.InTime;
        if (settings.IsPowered(vehicle) || !StandingWord.Is(reading)) return lateness;
        // A lane that the trailer joined later began with what it had last said.
        foreach (var claimer in _ledger.Claimers(vehicle))
            if (_ledger.FirstClaim(claimer, vehicle, at) is { } joined && _lanes[claimer].Note(joined) == Lateness.Late)
                lateness = Lateness.Late;
        return lateness;
    }

    private void NoteFact(VehicleName unit, long at)
    {
        if (!_lanes.TryGetValue(unit, out var lane)) return;
        if (lane.Note(at) == Lateness.TooLate) lane.Note(lane.Shelf.Oldest + 1);
    }

    private IEnumerable<Reading> Readings(VehicleName vehicle, long after, long to) =>
        RecentOf(vehicle) is var recent && after >= recent.HeldAfter ? recent.Between(after, to) : archive.Between(vehicle, new Moment(after), new Moment(to));

    private (long UpTo, LaneTrack Track) StartBefore(VehicleName unit, LaneHistory lane, long from)
    {
        for (var upTo = lane.Shelf.Before(from); upTo is { } moment; upTo = lane.Shelf.Before(moment))
        {
            if (moment == long.MinValue) break;
            var reader = new ByteReader(archive.Snapshot(unit, new Moment(moment)).Span);
            if (LaneTrack.Read(ref reader, settings.Setup) is TrackResult.Restored restored) return (moment, restored.Track);
        }

        // The beginning, or another version's snapshots only: then history of the horizon begins with nothing.
        return (lane.Shelf.Oldest, Begin(unit, lane.Shelf.Oldest));
    }

    private LaneTrack Begin(VehicleName unit, long at) => new(_ledger.MembersAt(unit, at), settings.Setup);

    private void LaneOf(VehicleName unit, out LaneHistory lane)
    {
        if (_lanes.TryGetValue(unit, out lane!)) return;
        lane = new LaneHistory(settings);
        _lanes.Add(unit, lane);
    }

    private RecentReadings RecentOf(VehicleName vehicle)
    {
        if (!_recent.TryGetValue(vehicle, out var recent)) _recent.Add(vehicle, recent = new RecentReadings());
        return recent;
    }
}
