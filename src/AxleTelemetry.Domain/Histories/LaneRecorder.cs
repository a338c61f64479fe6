using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>
/// Turns what a lane says and knows into rows of history. What it remembers belongs to the lane's state: it is copied and
/// restored with it. While nothing is said, nothing moved and no row is due, it allocates nothing.
/// </summary>
internal sealed class LaneRecorder(VehicleName unit)
{
    private const double RollingSeconds = 60, StandingSeconds = 900;

    private readonly LoadChange _change = new();
    private readonly OpenEpisodes _open = new(unit);
    private HistoryRow.Account? _account;
    private long _recordedAt;

    /// <summary>Episodes that are open, as their rows stand.</summary>
    public IEnumerable<HistoryRow.Episode> Open => _open.Rows;

    /// <summary>The latest row of the running account, as it stands; <c>null</c> before the first.</summary>
    public HistoryRow.Account? Account => _account;

    /// <summary>A lane ends: its episodes are closed, and what was recorded of loads is of other vehicles than those to come.</summary>
    public void End(LaneTrack track, List<LaneOutput> outputs, List<HistoryRow> rows)
    {
        foreach (var output in outputs) Take(track, output, rows);
        _recordedAt = 0;
        _change.Forget();
    }

    /// <summary>Looks at a lane after an input.</summary>
    /// <param name="track">The lane with its vehicles.</param>
    /// <param name="at">Moment of the input.</param>
    /// <param name="outputs">What the lane said of it.</param>
    /// <param name="rows">Receives the rows that follow.</param>
    public void After(LaneTrack track, long at, List<LaneOutput> outputs, List<HistoryRow> rows)
    {
        var said = false;
        foreach (var output in outputs) said |= Take(track, output, rows);
        _open.FollowPeaks(track, at, rows);
        var moved = _change.IsDue(track.Lane);
        var due = said || IsTime(track.Lane, at);
        if (!due && !moved) return;
        var view = track.Lane.View();
        if (due || _change.Moved(view)) Record(track, view, at, rows);
    }

    public void Write(ByteWriter to)
    {
        to.Long(_recordedAt);
        _change.Write(to);
        _open.Write(to);
        to.Flag(_account is not null);
        if (_account is not null) HistoryRowCodec.Write(_account, to);
    }

    public void Read(ref ByteReader from)
    {
        _recordedAt = from.Long();
        _change.Read(ref from);
        _open.Read(ref from);
        _account = from.Flag() ? HistoryRowCodec.Read(ref from) as HistoryRow.Account : null;
    }

    internal static Place? PlaceOf(Lane lane)
    {
        ref var motion = ref lane.State.Motion;
        return motion.PositionAt == 0 ? null : new Place(motion.Latitude, motion.Longitude, new Moment(motion.PositionAt));
    }

    private bool IsTime(Lane lane, long at) =>
        _recordedAt == 0 || at - _recordedAt >= 1000 * (lane.Movement is Movement.Rolling or Movement.Carried ? RollingSeconds : StandingSeconds);

    private bool Take(LaneTrack track, LaneOutput output, List<HistoryRow> rows)
    {
        switch (output)
        {
            case LaneOutput.Episode episode:
                _open.Take(track, episode, rows);
                return true;
            case LaneOutput.LoadBegan began:
                rows.Add(new HistoryRow.LoadBegun(new RowKey(unit, RowKind.LoadBegun, began.At, default), began.At, track.Members, began.Since, began.Payload));
                return true;
            case LaneOutput.Accounted account:
                _account = new HistoryRow.Account(new RowKey(unit, RowKind.Account, account.Since, default), account.At, track.Members, account.Unit, account.Axles);
                rows.Add(_account);
                return false;
            case LaneOutput.Configured:
                return true;
            case LaneOutput.LoadGoesOn or LaneOutput.Provisional: // Telling only.
                return false;
            default:
                throw new ArgumentOutOfRangeException(nameof(output), output, "Unknown output of a lane.");
        }
    }

    private void Record(LaneTrack track, LaneView view, long at, List<HistoryRow> rows)
    {
        _recordedAt = at;
        _change.Recorded(view);
        var moment = new Moment(at);
        rows.Add(new HistoryRow.Load(new RowKey(unit, RowKind.Load, moment, default), moment, track.Members)
        {
            Standing = view.Standing,
            Movement = view.Movement,
            Configuration = view.Configuration,
            Axles = [.. view.Axles.Select(a => a.Load?.Load)],
            Gross = view.Gross?.Load,
            Payloads = [.. view.Payloads.Select(p => p.Load)],
            Withheld = view.Withheld,
            Place = PlaceOf(track.Lane),
        });
    }
}
