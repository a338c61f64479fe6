using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>
/// A second run of a unit's history from the newest snapshot before what came late. It goes in small portions beside the live
/// steps; what it found is handed out whole, at its end, as the difference to what is recorded.
/// </summary>
public sealed class Correction
{
    private readonly LaneHistory _lane;
    private readonly IHistoryArchive _archive;
    private readonly LaneTrack _track;
    private readonly LanePass _pass;
    private readonly SnapshotShelf _shelf;
    private readonly long _begins;
    private readonly List<LaneSnapshot> _snapshots = [];
    private readonly SortedDictionary<RowKey, HistoryRow> _found = [];
    private readonly EpisodesInForce _inForce = new();
    private readonly Dictionary<(FindingKey Key, Moment Since), FoundAgain> _again = [];
    private readonly LaneSaid _said = new([], []);
    private readonly ByteWriter _buffer = new();
    private IEnumerator<Reading>? _steps;
    private long _doneTo, _goingTo;

    /// <summary>Told of what is to be handed out, before it takes the place of what was.</summary>
    internal Action<HistoryChange> Ends { private get; init; } = _ => { };

    internal Correction(LaneHistory lane, IHistoryArchive archive, (long UpTo, LaneTrack Track) start, LanePass pass)
    {
        _lane = lane;
        _archive = archive;
        (_begins, _track) = start;
        _pass = pass;
        _shelf = lane.Shelf.From(start.UpTo);
        _doneTo = start.UpTo;
        Unit = _track.Members[0].Vehicle;
        // What is open is put back to how it stood, unless the second run touches it again.
        foreach (var open in _track.Open) Find(open);
        if (_track.Account is { } account) Find(account);
        _pass.TakeUp(start.UpTo, _said);
    }

    /// <summary>Whose history it is.</summary>
    public VehicleName Unit { get; }

    /// <summary>From when on history is run again.</summary>
    public Moment Begins => new(_begins);

    /// <summary>The first moment that may have changed.</summary>
    public Moment From => _begins == long.MinValue ? Begins : new Moment(_begins + 1);

    /// <summary>Once it is finished: every episode in force that was open at its beginning or opened since.</summary>
    public ImmutableArray<EpisodeInForce> InForce { get; private set; } = [];

    /// <summary>Once it is finished: what was found of them the last time while they held, with figures and remedies. An episode that began before it and did not change since is not among them.</summary>
    public ImmutableDictionary<(FindingKey Key, Moment Since), FoundAgain> Found { get; private set; } = ImmutableDictionary<(FindingKey, Moment), FoundAgain>.Empty;

    /// <summary>Steps up to so many readings. True once it has caught up with the live lane.</summary>
    public bool Advance(int readings)
    {
        while (true)
        {
            if (_steps is null && _doneTo >= _lane.SteppedTo) return true;
            if (_steps is null) BeginSteps();
            while (readings > 0 && _steps!.MoveNext()) readings--;
            if (readings == 0) return false;
            _steps!.Dispose();
            _steps = null;
            _doneTo = _goingTo;
        }
    }

    /// <summary>Catches up, takes the place of the live lane, and hands out the difference. To be written in one transaction.</summary>
    public void Finish(HistoryChange change)
    {
        Advance(int.MaxValue);
        Collect();
        InForce = _inForce.All();
        Found = _again.ToImmutableDictionary();
        Compare(change);
        Ends(change);
        foreach (var upTo in _lane.Shelf.Replace(_begins, _shelf)) change.Drop(Unit, upTo);
        change.Snapshots.AddRange(_snapshots);
        _lane.Track = _track;
        _lane.Correcting = null;
    }

    private void BeginSteps()
    {
        _goingTo = _lane.SteppedTo;
        _steps = _pass.Steps(_doneTo, _goingTo, _said, at => _shelf.BeforeMoment(_track, at, _buffer, _snapshots)).GetEnumerator();
    }

    private void Collect()
    {
        foreach (var row in _said.Rows) Find(row);
        _said.Rows.Clear();
        foreach (var (members, output) in _said.Outputs!)
            if (output is LaneOutput.Episode { Change: not EpisodeChange.Closed } episode)
                _again[(episode.Key, episode.Since)] = new FoundAgain(members, episode);
        _said.Outputs.Clear();
    }

    private void Find(HistoryRow row)
    {
        _found[row.Key] = row;
        if (row is HistoryRow.Episode episode) _inForce.Take(episode);
    }

    private void Compare(HistoryChange change)
    {
        var from = _begins == long.MinValue ? _begins : _begins + 1;
        var recorded = new SortedDictionary<RowKey, ReadOnlyMemory<byte>>();
        foreach (var row in _archive.TouchedFrom(Unit, new Moment(from))) recorded.Add(row.Key, row.Bytes);
        foreach (var key in recorded.Keys)
            if (!_found.ContainsKey(key))
                change.Voided.Add(key);
        foreach (var (key, row) in _found)
        {
            if (recorded.TryGetValue(key, out var bytes) ? IsSame(row, bytes.Span) : row.Touched.UnixMilliseconds < from) continue;
            change.Rows.Add(row);
        }
    }

    private bool IsSame(HistoryRow row, ReadOnlySpan<byte> bytes)
    {
        _buffer.Clear();
        HistoryRowCodec.Write(row, _buffer);
        return _buffer.Written.SequenceEqual(bytes);
    }
}
