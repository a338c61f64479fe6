using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>Keeps everything in memory: for a recording that is run without a journal.</summary>
public sealed class MemoryArchive : IHistoryArchive
{
    private readonly Dictionary<VehicleName, SortedSet<Reading>> _readings = [];
    private readonly SortedDictionary<RowKey, (Moment Touched, byte[] Bytes)> _rows = [];
    private readonly Dictionary<(VehicleName, Moment), ReadOnlyMemory<byte>> _snapshots = [];

    /// <summary>Rows in force, in the order of their keys.</summary>
    public IEnumerable<RecordedRow> Rows => _rows.Select(r => new RecordedRow(r.Key, r.Value.Bytes));

    /// <summary>Snapshots kept.</summary>
    public int Snapshots => _snapshots.Count;

    /// <summary>Keeps a reading.</summary>
    public void Add(VehicleName vehicle, in Reading reading)
    {
        if (!_readings.TryGetValue(vehicle, out var own)) _readings.Add(vehicle, own = []);
        own.Add(reading);
    }

    /// <summary>Applies a change.</summary>
    public void Apply(HistoryChange change)
    {
        foreach (var dropped in change.Dropped) _snapshots.Remove(dropped);
        foreach (var snapshot in change.Snapshots) _snapshots[(snapshot.Unit, snapshot.UpTo)] = snapshot.Bytes;
        foreach (var key in change.Voided) _rows.Remove(key);
        foreach (var row in change.Rows) _rows[row.Key] = (row.Touched, HistoryRowCodec.Encode(row));
    }

    /// <inheritdoc/>
    public IEnumerable<Reading> Between(VehicleName vehicle, Moment after, Moment to)
    {
        if (after >= to || !_readings.TryGetValue(vehicle, out var own)) return [];
        var last = new Reading(to, (ReadingKind)byte.MaxValue, ushort.MaxValue, double.MaxValue);
        // Copied, so that readings may be added meanwhile.
        return [.. own.GetViewBetween(new Reading(new Moment(after.UnixMilliseconds + 1), 0, 0, double.MinValue), last)];
    }

    /// <inheritdoc/>
    public IEnumerable<Reading> WordsAt(VehicleName vehicle, Moment at)
    {
        var words = new SortedDictionary<(ReadingKind, ushort), Reading>();
        foreach (var reading in Between(vehicle, at.Plus(-StandingWord.LooksBack), at))
            if (StandingWord.Is(reading)) words[(reading.Kind, reading.Key)] = reading;
        return words.Values;
    }

    /// <inheritdoc/>
    public IEnumerable<RecordedRow> TouchedFrom(VehicleName unit, Moment from) =>
        _rows.Where(r => r.Key.Unit == unit && r.Value.Touched >= from).Select(r => new RecordedRow(r.Key, r.Value.Bytes));

    /// <inheritdoc/>
    public ReadOnlyMemory<byte> Snapshot(VehicleName unit, Moment upTo) => _snapshots[(unit, upTo)];
}
