using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>
/// The lanes of a fleet over inputs that come in any order. What is in order is stepped when it is released; what comes late
/// marks its unit, and a second run puts the rows right. The rows in force are a function of the set of what was taken.
/// </summary>
/// <remarks>For one thread. After an exception from a step, which is a broken rule of ours, the unit stands still until it is corrected.</remarks>
public sealed class FleetHistory(IHistoryArchive archive, HistorySettings settings)
{
    /// <summary>The moment of a coupling or version that holds before anything is heard.</summary>
    public static Moment Beginning { get; } = new(long.MinValue);

    private readonly Dictionary<VehicleName, LaneHistory> _lanes = [];
    private readonly Dictionary<VehicleName, RecentReadings> _recent = [];
    private readonly MarkedLanes _marked = new();
    private readonly FleetLedger _ledger = new(settings.RememberFacts, settings.CanRun);
    private readonly ByteWriter _buffer = new();

    /// <summary>Units that were heard of, by name.</summary>
    public IEnumerable<VehicleName> Units => _lanes.Keys.Order();

    /// <summary>Units whose history is to be corrected, oldest moment first.</summary>
    public IEnumerable<(VehicleName Unit, Moment From)> ToBeCorrected => _marked.InOrder;

    /// <summary>How many units <see cref="ToBeCorrected"/> names.</summary>
    public int CountToBeCorrected => _marked.Count;

    /// <summary>True while a unit's history is to be corrected, or being corrected.</summary>
    public bool IsBehind(VehicleName unit) => _lanes.GetValueOrDefault(unit) is { OldestMark: not null };

    /// <summary>From when on a unit's history may not be right yet; <c>null</c> where it is.</summary>
    public Moment? MarkOf(VehicleName unit) => _lanes.GetValueOrDefault(unit)?.OldestMark is { } mark ? new Moment(mark) : null;

    /// <summary>True for a unit that is stepped, or was never; false while a second run is to find its lane again.</summary>
    public bool IsRestored(VehicleName unit) => _lanes.GetValueOrDefault(unit) is { IsLost: false };

    /// <summary>The vehicles of a unit after everything that was said, itself first.</summary>
    public IEnumerable<VehicleName> MembersOf(VehicleName unit) => _ledger.MembersAt(unit, long.MaxValue).Select(m => m.Vehicle);

    /// <summary>What a unit said last of what hangs on it, whether it can be or not.</summary>
    public ImmutableArray<VehicleName> StatedBy(VehicleName unit) => _ledger.Stated(unit);

    /// <summary>Everybody whose lane may change by a statement that was taken, its own vehicle among them.</summary>
    public IEnumerable<VehicleName> ConcernedBy(CouplingStatement statement) => _ledger.Concerned(statement.By, statement.At.UnixMilliseconds);

    /// <summary>How many trailers anybody ever said hang on anything.</summary>
    public int CountClaimed => _ledger.CountClaimed;

    /// <summary>True for a trailer that somebody ever said hangs on them.</summary>
    public bool IsClaimed(VehicleName trailer) => _ledger.Claimers(trailer).Any();

    /// <summary>Up to where a unit must be stepped for what was said of couplings, though it says nothing more itself; <c>null</c> for nothing.</summary>
    public Moment? LastChangeOf(VehicleName unit) => _ledger.LastChange(unit) is { } last && last != long.MinValue ? new Moment(last) : null;

    /// <summary>The lane of a unit as it stands; <c>null</c> before its first step, and while it is lost. To be looked at only.</summary>
    public Lanes.Lane? LaneOf(VehicleName unit) => _lanes.GetValueOrDefault(unit)?.Track?.Lane;

    /// <summary>What was counted of a vehicle's readings.</summary>
    public ReadingCounts CountsOf(VehicleName vehicle) => _recent.GetValueOrDefault(vehicle)?.Counts ?? default;

    /// <summary>Moment of the latest reading of a vehicle; <c>null</c> before the first.</summary>
    public Moment? NewestOf(VehicleName vehicle) =>
        _recent.GetValueOrDefault(vehicle) is { Newest: > long.MinValue } recent ? new Moment(recent.Newest) : null;

    /// <summary>The unit whose lane takes a vehicle's readings of a moment; <c>null</c> for a trailer behind nobody.</summary>
    public VehicleName? UnitOf(VehicleName vehicle, Moment at) =>
        settings.IsPowered(vehicle) ? vehicle : TrailerUnit(vehicle, at.UnixMilliseconds);

    /// <summary>Changes with every statement, and every version, that may put other vehicles into a unit: as long as it stays, so does <see cref="MembersOf"/>.</summary>
    public int CouplingsTaken { get; private set; }

    /// <summary>Takes a reading, in whatever order. The archive holds those taken before, not yet this one.</summary>
    public ReadingOutcome Take(VehicleName vehicle, in Reading reading) => Taking(vehicle).Take(reading);

    /// <summary>Begins to take readings of one vehicle: it is looked up once for all of them.</summary>
    public VehicleTaking Taking(VehicleName vehicle)
    {
        LaneHistory? own = null;
        if (settings.IsPowered(vehicle)) LaneOf(vehicle, out own);
        return new VehicleTaking(this, vehicle, RecentOf(vehicle), own);
    }

    /// <summary>Takes a statement of what hangs on a vehicle. One that is too late for its own moment holds from the oldest that can be run again.</summary>
    public FactOutcome Take(CouplingStatement statement)
    {
        LaneOf(statement.By, out _);
        CouplingsTaken++;
        var outcome = _ledger.Enter(statement);
        if (outcome is FactOutcome.Entered or FactOutcome.ConflictWon)
            foreach (var unit in _ledger.Concerned(statement.By, statement.At.UnixMilliseconds).ToList()) NoteFact(unit, statement.At.UnixMilliseconds);
        return outcome;
    }

    /// <summary>Takes a version of what is set for a vehicle.</summary>
    public FactOutcome Take(SettingsVersion version)
    {
        // Under another version a trailer may fit, or no longer.
        CouplingsTaken++;
        var outcome = _ledger.Enter(version);
        if (outcome is FactOutcome.Entered or FactOutcome.ConflictWon)
            foreach (var unit in _ledger.Claimers(version.Of).Append(version.Of)) NoteFact(unit, version.From.UnixMilliseconds);
        return outcome;
    }

    /// <summary>Nothing of a unit is waited for up to a moment: steps what there is. Of a unit whose lane is lost nothing is stepped.</summary>
    /// <remarks>After an exception the lane is lost, and what stands in the change is to be thrown away.</remarks>
    public void Release(VehicleName unit, Moment to, HistoryChange change)
    {
        LaneOf(unit, out var lane);
        var end = to.UnixMilliseconds;
        if (end <= lane.SteppedTo || lane.IsLost) return;
        var (shelf, rows) = (lane.Shelf.Mark, change.Rows.Count);
        try
        {
            Step(unit, lane, end, change);
            TakePartings(change, rows);
        }
        catch
        {
            lane.Shelf.ReturnTo(shelf);
            lane.Lose();
            throw;
        }

        Prune(unit, lane, change);
        foreach (var member in lane.Track!.Members) RecentOf(member.Vehicle).Forget(end - (long)(1000 * settings.Remember));
    }

    /// <summary>Readings of a trailer that is behind nobody need not be held: the archive has them for whoever claims it.</summary>
    public void PassOver(VehicleName trailer, Moment to) => RecentOf(trailer).Forget(to.UnixMilliseconds - (long)(1000 * settings.Remember));

    /// <summary>True where anything of a unit came late since this was last asked.</summary>
    public bool TakeLate(VehicleName unit)
    {
        if (!_lanes.TryGetValue(unit, out var lane) || !lane.CameLate) return false;
        lane.CameLate = false;
        return true;
    }

    /// <summary>A unit's lane is not to be trusted: it is marked to be run again from its newest snapshot, and stands still until then.</summary>
    public void Rerun(VehicleName unit)
    {
        LaneOf(unit, out var lane);
        lane.Lose();
    }

    /// <summary>
    /// Of which vehicles readings from which moment on are needed to correct what is marked: those of the unit and of all that hung on it since the
    /// snapshot that the second run begins at, with what they had said of their lifts before.
    /// </summary>
    public IEnumerable<(VehicleName Vehicle, Moment From)> NeededAgain()
    {
        foreach (var (unit, lane) in _lanes)
        {
            if (lane.OldestMark is not { } mark) continue;
            var start = lane.Shelf.Before(mark) ?? lane.Shelf.Oldest;
            var looked = (long)(1000 * StandingWord.LooksBack);
            var from = new Moment(start < long.MinValue + looked ? long.MinValue : start - looked);
            yield return (unit, from);
            foreach (var trailer in _ledger.TrailersSince(unit, start)) yield return (trailer, from);
        }
    }

    /// <summary>A second run came to nothing: what it was to correct is to be corrected again, and the lane goes on as it was.</summary>
    public void PutOff(VehicleName unit)
    {
        LaneOf(unit, out var lane);
        lane.PutOff();
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
        // It begins further back than the newest snapshot: what lies between is needed until it has ended.
        if (start.UpTo != lane.Shelf.Before(from)) lane.Correcting = Math.Min(from, start.UpTo + 1);
        var pass = new LanePass(start.Track, _ledger,
            (vehicle, after, to) => new ReadingStream.Archived(archive.Between(vehicle, new Moment(after), new Moment(to))), (vehicle, at) => archive.WordsAt(vehicle, new Moment(at)));
        return new Correction(lane, archive, start, pass) { Ends = change => TakePartings(change, 0) };
    }

    /// <summary>Writes what changes with every message of a vehicle: to be kept with each batch.</summary>
    public void WritePulse(VehicleName vehicle, ByteWriter to)
    {
        var recent = RecentOf(vehicle);
        to.Long(recent.Newest);
        foreach (var count in (ReadOnlySpan<long>)[recent.Counts.Taken, recent.Counts.Repeated, recent.Counts.Conflicting, recent.Counts.Late, recent.Counts.TooLate])
            to.Long(count);
        to.Long(_lanes.GetValueOrDefault(vehicle)?.SteppedTo ?? long.MinValue);
    }

    /// <summary>Reads what was written, in a history that has taken nothing. False where the bytes are not whole.</summary>
    public bool ReadPulse(VehicleName vehicle, ref ByteReader from)
    {
        var recent = RecentOf(vehicle);
        var newest = from.Long();
        recent.BeginAfter(newest, newest);
        recent.Counts = new ReadingCounts(from.Long(), from.Long(), from.Long(), from.Long(), from.Long());
        var steppedTo = from.Long();
        if (steppedTo == long.MinValue) return from.EndedWell;
        LaneOf(vehicle, out var lane);
        lane.SteppedTo = steppedTo;
        return from.EndedWell;
    }

    /// <summary>Writes up to when there are snapshots of a unit: to be kept whenever any was handed out or dropped, and after each correction. At a clean stop with its track.</summary>
    /// <remarks>A correction may change the track without stepping further: a track written before it must not be taken up after it.</remarks>
    public void WriteUnit(VehicleName unit, ByteWriter to, bool withTrack)
    {
        LaneOf(unit, out var lane);
        lane.Write(to, withTrack);
    }

    /// <summary>Reads what was written, in a history that has taken nothing. False where the bytes are not whole.</summary>
    public bool ReadUnit(VehicleName unit, ref ByteReader from)
    {
        LaneOf(unit, out var lane);
        lane.Read(ref from);
        return from.EndedWell;
    }

    /// <summary>Writes couplings and versions of a vehicle, and what was aboard of trailers that left it: to be kept whenever one was taken, and of each unit that a change names as <see cref="HistoryChange.Parting"/>.</summary>
    public void WriteFacts(VehicleName vehicle, ByteWriter to) => _ledger.Write(vehicle, to);

    /// <summary>Reads what was written, in a history that has taken nothing. False where the bytes are not whole.</summary>
    public bool ReadFacts(VehicleName vehicle, ref ByteReader from)
    {
        CouplingsTaken++;
        _ledger.Read(vehicle, ref from);
        return from.EndedWell;
    }

    /// <summary>A mark that was kept: a unit's history is to be corrected from a moment on.</summary>
    public void Mark(VehicleName unit, Moment from)
    {
        LaneOf(unit, out var lane);
        lane.CorrectFrom = Math.Min(from.UnixMilliseconds, lane.CorrectFrom ?? long.MaxValue);
    }

    /// <summary>
    /// Everything was read, of all vehicles in any order (facts, units, pulses), and marked: takes up a unit's track where a clean stop left it. Otherwise the unit is marked
    /// to be run again from its newest snapshot.
    /// </summary>
    public void Settle(VehicleName unit)
    {
        LaneOf(unit, out var lane);
        lane.Settle();
    }

    private void Step(VehicleName unit, LaneHistory lane, long end, HistoryChange change)
    {
        lane.Track ??= Begin(unit, long.MinValue);
        var track = lane.Track;
        var pass = new LanePass(track, _ledger, Readings, (vehicle, at) => archive.WordsAt(vehicle, new Moment(at)));
        var said = new LaneSaid(change.Rows, change.Outputs);
        foreach (var reading in pass.Steps(lane.SteppedTo, end, said, at => lane.Shelf.BeforeMoment(track, at, _buffer, change.Snapshots))) _ = reading;
        lane.SteppedTo = end;
    }

    /// <summary>What was aboard of a trailer when it was parted is another than it seemed: lanes that took it since began with what seemed.</summary>
    private void TakePartings(HistoryChange change, int first)
    {
        foreach (var key in change.Voided)
            if (key.Kind == RowKind.Parted) NoteParting(_ledger.Withdraw(key.Unit, key.At.UnixMilliseconds), key);
        for (var i = first; i < change.Rows.Count; i++)
            if (change.Rows[i] is HistoryRow.Parted row) NoteParting(_ledger.Enter(row), row.Key);
    }

    private void NoteParting(ImmutableArray<PartedTrailer> trailers, RowKey parted)
    {
        foreach (var trailer in trailers.Select(t => t.Trailer.Vehicle).Distinct())
            foreach (var (unit, joined) in _ledger.JoinedSince(trailer, parted.At.UnixMilliseconds))
                if (_lanes.TryGetValue(unit, out var lane)) lane.Note(joined);
    }

    internal Placing PlaceInArchive(VehicleName vehicle, in Reading reading)
    {
        var greatest = double.NegativeInfinity;
        foreach (var other in archive.Between(vehicle, new Moment(reading.At.UnixMilliseconds - 1), reading.At))
            if (RecentReadings.IsSame(other, reading)) greatest = Math.Max(greatest, other.Value);
        return double.IsNegativeInfinity(greatest) ? Placing.New
            : greatest.Equals(reading.Value) ? Placing.Repeated
            : greatest > reading.Value ? Placing.Lesser
            : Placing.Greater;
    }

    private void Prune(VehicleName unit, LaneHistory lane, HistoryChange change)
    {
        var oldest = lane.Shelf.Oldest;
        foreach (var upTo in lane.Shelf.Prune(lane.SteppedTo, lane.OldestMark ?? long.MaxValue)) change.Drop(unit, upTo);
        if (lane.Shelf.Oldest == oldest) return;
        foreach (var member in lane.Track!.Members) _ledger.Prune(member.Vehicle, OldestOf);
    }

    private long OldestOf(VehicleName unit) =>
        _lanes.TryGetValue(unit, out var lane) ? lane.Shelf.Oldest : settings.IsPowered(unit) ? long.MinValue : long.MaxValue;

    /// <summary>Says what a trailer's reading means for what was stepped.</summary>
    internal Lateness NoteTrailer(VehicleName trailer, in Reading reading)
    {
        var at = reading.At.UnixMilliseconds;
        var lateness = TrailerUnit(trailer, at) is { } unit && _lanes.TryGetValue(unit, out var lane) ? lane.Note(at) : Lateness.InTime;
        if (!StandingWord.Is(reading)) return lateness;
        // A lane that the trailer joined later began with what it had last said.
        foreach (var claimer in _ledger.Claimers(trailer))
            if (_ledger.JoinsFrom(claimer, trailer, at) is { } joined && _lanes.TryGetValue(claimer, out var other) && other.Note(joined) == Lateness.Late)
                lateness = Lateness.Late;
        return lateness;
    }

    internal VehicleName? TrailerUnit(VehicleName trailer, long at) => _ledger.UnitOf(trailer, at == long.MinValue ? long.MinValue : at - 1);

    private void NoteFact(VehicleName unit, long at)
    {
        if (!_lanes.TryGetValue(unit, out var lane)) return;
        if (lane.Note(at) == Lateness.TooLate) lane.Note(lane.Shelf.Oldest + 1);
    }

    private ReadingStream Readings(VehicleName vehicle, long after, long to) => RecentOf(vehicle) is var recent && after >= recent.HeldAfter
        ? recent.Between(after, to)
        : new ReadingStream.Archived(archive.Between(vehicle, new Moment(after), new Moment(to)));

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
        lane = new LaneHistory(unit, settings, _marked);
        _lanes.Add(unit, lane);
    }

    private RecentReadings RecentOf(VehicleName vehicle)
    {
        if (!_recent.TryGetValue(vehicle, out var recent)) _recent.Add(vehicle, recent = new RecentReadings());
        return recent;
    }
}
