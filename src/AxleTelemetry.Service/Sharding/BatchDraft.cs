using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Storage.Rows;
using HistoryRow = AxleTelemetry.Storage.Rows.HistoryRow;
using RowKind = AxleTelemetry.Storage.Rows.RowKind;

namespace AxleTelemetry.Service.Sharding;

/// <summary>A batch while it is made: rows gather here, and what is to be kept of states is noted once each.</summary>
internal sealed class BatchDraft
{
    private readonly ImmutableArray<InputRow>.Builder _inputs = ImmutableArray.CreateBuilder<InputRow>();
    private readonly ImmutableArray<HistoryRow>.Builder _history = ImmutableArray.CreateBuilder<HistoryRow>();
    private readonly ImmutableArray<TellingRow>.Builder _telling = ImmutableArray.CreateBuilder<TellingRow>();
    private readonly ImmutableArray<RefusalRow>.Builder _refusals = ImmutableArray.CreateBuilder<RefusalRow>();
    private readonly ImmutableArray<SnapshotChange>.Builder _snapshots = ImmutableArray.CreateBuilder<SnapshotChange>();
    private readonly ImmutableArray<CorrectionMark>.Builder _marks = ImmutableArray.CreateBuilder<CorrectionMark>();
    private readonly ByteWriter _row = new();
    private int _told;

    /// <summary>Number of the batch.</summary>
    public long Number { get; private set; }

    /// <summary>When it became known: our clock when the batch was begun.</summary>
    public Moment Now { get; private set; }

    /// <summary>What is to be kept of states, noted while the batch is made.</summary>
    public HashSet<(VehicleName Vehicle, RowKind Kind)> Touched { get; } = [];

    /// <summary>What lanes said, each with the vehicles it was said of; for whoever shows it at once.</summary>
    public List<(ImmutableArray<LaneMember> Members, LaneOutput Output)> Said { get; } = [];

    /// <summary>Second runs of history that this batch writes.</summary>
    public List<Correction> Corrected { get; } = [];

    /// <summary>True where nothing is in it.</summary>
    public bool IsEmpty => _inputs.Count + _history.Count + _telling.Count + _refusals.Count + _snapshots.Count + _marks.Count + Touched.Count == 0;

    /// <summary>Begins a further batch.</summary>
    public void Begin(long number, Moment now)
    {
        // A batch that came to nothing gives its number back, but the alerts have seen its places: one seen again would be passed over.
        if (number != Number) _told = 0;
        (Number, Now) = (number, now);
        _inputs.Clear();
        _history.Clear();
        _telling.Clear();
        _refusals.Clear();
        _snapshots.Clear();
        _marks.Clear();
        Touched.Clear();
        Said.Clear();
        Corrected.Clear();
    }

    /// <summary>The place of the next input to telling.</summary>
    public LogPosition NextTold() => new(Number, ++_told);

    public void Add(InputRow input) => _inputs.Add(input);

    public void Add(TellingRow told) => _telling.Add(told);

    public void Add(RefusalRow refusal) => _refusals.Add(refusal);

    public void Add(CorrectionMark mark) => _marks.Add(mark);

    /// <summary>What lanes left behind.</summary>
    public void Add(HistoryChange change)
    {
        foreach (var (unit, upTo) in change.Dropped) _snapshots.Add(new SnapshotChange.Drop(Codes.Of(unit), upTo));
        foreach (var snapshot in change.Snapshots) _snapshots.Add(new SnapshotChange.Keep(Codes.Of(snapshot.Unit), snapshot.UpTo, [.. snapshot.Bytes.Span]));
        foreach (var (unit, _) in change.Dropped) Touched.Add((unit, Codes.Unit));
        foreach (var snapshot in change.Snapshots) Touched.Add((snapshot.Unit, Codes.Unit));
        foreach (var unit in change.Parting) Touched.Add((unit, Codes.Facts));
        foreach (var key in change.Voided) _history.Add(new HistoryRow.Void(Codes.Of(key)));
        foreach (var row in change.Rows) _history.Add(Put(row));
    }

    /// <summary>The batch, with the states to keep.</summary>
    public Batch Made(ImmutableArray<CheckpointRow> checkpoints) => new(Number)
    {
        Inputs = _inputs.ToImmutable(),
        History = _history.ToImmutable(),
        Telling = _telling.ToImmutable(),
        Refusals = _refusals.ToImmutable(),
        Snapshots = _snapshots.ToImmutable(),
        Corrections = _marks.ToImmutable(),
        Checkpoints = checkpoints,
    };

    private HistoryRow.Put Put(Domain.Histories.HistoryRow row)
    {
        _row.Clear();
        HistoryRowCodec.Write(row, _row);
        return new HistoryRow.Put(Codes.Of(row.Key), [.. _row.Written]) { Touched = row.Touched == row.Key.At ? null : row.Touched };
    }
}
