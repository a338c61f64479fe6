using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>The rows of episodes that are open, kept until they end.</summary>
internal sealed class OpenEpisodes(VehicleName unit)
{
    private readonly List<HistoryRow.Episode> _rows = [];

    /// <summary>The rows, in the order they opened.</summary>
    public IReadOnlyList<HistoryRow.Episode> Rows => _rows;

    /// <summary>Takes a change of an episode.</summary>
    public void Take(LaneTrack track, LaneOutput.Episode said, List<HistoryRow> rows)
    {
        var at = _rows.FindIndex(r => r.Key.Finding == said.Key);
        var row = said.Change == EpisodeChange.Opened || at < 0 ? Begin(track, said) : _rows[at];
        row = row with
        {
            Touched = said.At,
            Members = track.Members,
            Level = said.Level,
            Reached = said.Level > row.Reached ? said.Level : row.Reached,
            ClosedAt = said.Change == EpisodeChange.Closed ? said.At : null,
        };
        rows.Add(row);
        if (said.Change != EpisodeChange.Closed) Keep(at, row);
        else if (at >= 0) _rows.RemoveAt(at);
    }

    /// <summary>A limit passed further than before is entered: the lane keeps the greatest excess, its spread is looked up here.</summary>
    public void FollowPeaks(LaneTrack track, long at, List<HistoryRow> rows)
    {
        for (var i = 0; i < _rows.Count; i++)
        {
            if (_rows[i].Key.Finding.Kind != FindingKind.Overload || _rows[i].Subject is not EpisodeSubject.Limit limit) continue;
            var margin = _rows[i].Key.Finding.Margin;
            var slot = track.Lane.Setup.Catalog.IndexOf(margin);
            if (slot < 0 || !(track.Lane.State.Episodes[slot].Peak > limit.Peak.Mean)) continue;
            if (Judge(track.Lane, margin) is not { } verdict) continue;
            var peak = verdict.Excess with { Mean = track.Lane.State.Episodes[slot].Peak };
            _rows[i] = _rows[i] with { Touched = new Moment(at), Subject = limit with { Peak = peak, PeakAt = new Moment(at) } };
            rows.Add(_rows[i]);
        }
    }

    public void Write(ByteWriter to)
    {
        to.Int(_rows.Count);
        foreach (var row in _rows) HistoryRowCodec.Write(row, to);
    }

    public void Read(ref ByteReader from)
    {
        _rows.Clear();
        for (var count = from.Count(); count > 0; count--)
            if (HistoryRowCodec.Read(ref from) is HistoryRow.Episode row)
                _rows.Add(row);
    }

    private void Keep(int at, HistoryRow.Episode row)
    {
        if (at < 0) _rows.Add(row);
        else _rows[at] = row;
    }

    private HistoryRow.Episode Begin(LaneTrack track, LaneOutput.Episode said) =>
        new(new RowKey(unit, RowKind.Episode, said.Since, said.Key), said.At, track.Members)
        {
            OpenedAt = said.At,
            ClosedAt = null,
            Level = said.Level,
            Reached = said.Level,
            Configuration = track.Lane.Configuration,
            Place = LaneRecorder.PlaceOf(track.Lane),
            Subject = SubjectOf(said.Detail, said.At),
        };

    private static EpisodeSubject SubjectOf(FindingDetail detail, Moment at) => detail switch
    {
        FindingDetail.None => new EpisodeSubject.Plain(),
        FindingDetail.Excess excess => LimitOf(excess, at),
        FindingDetail.Idle idle => new EpisodeSubject.Idle(idle.Raised, idle.TyreNewtons, idle.HubNewtons),
        FindingDetail.DidNotAct why => new EpisodeSubject.DidNotAct(why.Mechanism, why.Calibration, why.LiftState),
        FindingDetail.Measured measured => new EpisodeSubject.Measured(measured.Value, measured.Unit),
        _ => throw new ArgumentOutOfRangeException(nameof(detail), detail, "Unknown detail of a finding."),
    };

    private static EpisodeSubject.Limit LimitOf(FindingDetail.Excess excess, Moment at) => new()
    {
        Value = excess.Verdict.Margin.Limit,
        Scale = excess.Verdict.Scale,
        Standing = excess.Verdict.Margin.Standing,
        Source = excess.Verdict.Margin.Source,
        Note = excess.Verdict.Margin.Note,
        Load = excess.Load,
        Opening = excess.Verdict.Excess,
        Peak = excess.Verdict.Excess,
        PeakAt = at,
    };

    private static Verdict? Judge(Lane lane, MarginKey key)
    {
        if (lane.Setup.TableAt(lane.State.Place.Stack).At(lane.Configuration, lane.State.Payload.State) is not { } judged) return null;
        for (var i = 0; i < judged.Margins.Length; i++)
            if (judged.Margins[i].Key == key)
                return judged.Judge(i, lane.Setup.Estimator, lane.State.Payload, lane.State.Known);
        return null;
    }
}
