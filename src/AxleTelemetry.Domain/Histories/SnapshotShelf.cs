using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Histories;

/// <summary>Up to which moments there are snapshots of a unit, and when the next is due. The first may be the beginning, from which a lane starts with nothing.</summary>
internal sealed class SnapshotShelf(HistorySettings settings)
{
    private readonly List<long> _upTo = [long.MinValue];
    private bool _stood;
    private long _from = long.MinValue;

    /// <summary>The oldest moment from which history can be run again.</summary>
    public long Oldest => _upTo[0];

    /// <summary>The newest moment there is a snapshot of.</summary>
    public long Newest => _upTo[^1];

    /// <summary>What <see cref="ReturnTo"/> needs.</summary>
    public (int Count, bool Stood, long From) Mark => (_upTo.Count, _stood, _from);

    /// <summary>Forgets the snapshots taken since: they were never handed out.</summary>
    public void ReturnTo((int Count, bool Stood, long From) mark)
    {
        _upTo.RemoveRange(mark.Count, _upTo.Count - mark.Count);
        (_stood, _from) = (mark.Stood, mark.From);
    }

    /// <summary>The newest before a moment; <c>null</c> where there is none.</summary>
    public long? Before(long moment)
    {
        for (var i = _upTo.Count - 1; i >= 0; i--)
            if (_upTo[i] < moment)
                return _upTo[i];
        return null;
    }

    /// <summary>Takes a snapshot where one is due before a reading of a new moment.</summary>
    public void BeforeMoment(LaneTrack track, long at, ByteWriter buffer, List<LaneSnapshot> snapshots)
    {
        if (!IsDue(track, at)) return;
        buffer.Clear();
        track.Write(buffer);
        _upTo.Add(at - 1);
        _from = at - 1;
        snapshots.Add(new LaneSnapshot(track.Members[0].Vehicle, new Moment(at - 1), buffer.Written.ToArray()));
    }

    /// <summary>Forgets what lies behind the horizon: the newest that lies behind it is kept, and behind what is still to be corrected.</summary>
    public IEnumerable<long> Prune(long newest, long toBeCorrected)
    {
        var floor = Math.Min(newest - (long)(1000 * settings.Horizon), toBeCorrected);
        while (_upTo.Count > 1 && _upTo[1] < floor)
        {
            if (_upTo[0] != long.MinValue) yield return _upTo[0];
            _upTo.RemoveAt(0);
        }
    }

    /// <summary>Replaces everything after a moment by what a second run took.</summary>
    public IEnumerable<long> Replace(long after, SnapshotShelf run)
    {
        var first = _upTo.FindIndex(u => u > after);
        var dropped = first < 0 ? [] : _upTo.GetRange(first, _upTo.Count - first);
        if (first >= 0) _upTo.RemoveRange(first, dropped.Count);
        _upTo.AddRange(run._upTo.Where(u => u > after));
        (_stood, _from) = (run._stood, run._from);
        return dropped;
    }

    /// <summary>A shelf for a run that begins at a snapshot.</summary>
    public SnapshotShelf From(long upTo) => new(settings) { _from = upTo };

    public void Write(ByteWriter to)
    {
        to.Flag(_stood);
        to.Long(_from);
        to.Int(_upTo.Count);
        foreach (var moment in _upTo) to.Long(moment);
    }

    public void Read(ref ByteReader from)
    {
        _stood = from.Flag();
        _from = from.Long();
        _upTo.Clear();
        for (var count = from.Count(); count > 0; count--) _upTo.Add(from.Long());
    }

    private bool IsDue(LaneTrack track, long at)
    {
        if (at <= track.LatestAt || track.LatestAt == 0) return false;
        if (_from == long.MinValue) _from = track.LatestAt;
        var stands = track.Lane.State.Motion.StandsSince != 0;
        var stopped = stands && !_stood;
        var since = at - _from;
        if (!stopped || since >= 1000 * settings.SnapshotAtStopAfter) _stood = stands;
        return since >= 1000 * settings.SnapshotEvery || stopped && since >= 1000 * settings.SnapshotAtStopAfter;
    }
}
