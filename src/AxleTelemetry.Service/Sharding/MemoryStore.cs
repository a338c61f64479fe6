using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Service.Sharding;

/// <summary>Keeps what a shard writes in memory: for a recording that is run without a journal. What was told and refused is counted only.</summary>
internal sealed class MemoryStore : IShardStore
{
    private readonly Dictionary<VehicleKey, List<LoggedInput>> _inputs = [];
    private readonly Dictionary<VehicleKey, SortedDictionary<HistoryKey, HistoryRow.Put>> _history = [];
    private readonly Dictionary<(VehicleKey, Moment), ImmutableArray<byte>> _snapshots = [];
    private readonly HashSet<VehicleKey> _unordered = [];

    /// <summary>The batch written last; <c>null</c> before the first.</summary>
    public Batch? Last { get; private set; }

    /// <summary>Messages that are kept.</summary>
    public int Kept => _inputs.Values.Sum(own => own.Count);

    /// <summary>Rows of history in force, by fleet, vehicle, kind, time and key.</summary>
    public IEnumerable<HistoryRow.Put> History => _history
        .OrderBy(h => h.Key.Fleet, StringComparer.Ordinal).ThenBy(h => h.Key.Vehicle, StringComparer.Ordinal).SelectMany(h => h.Value.Values);

    /// <summary>An episode in force; <c>null</c> for none of this key.</summary>
    public Domain.Histories.HistoryRow.Episode? Find(Domain.Histories.RowKey key)
    {
        if (!_history.TryGetValue(Codes.Of(key.Unit), out var own) || !own.TryGetValue(Codes.Of(key), out var row)) return null;
        var from = new Domain.Histories.ByteReader(row.Bytes.AsSpan());
        return Domain.Histories.HistoryRowCodec.Read(ref from) as Domain.Histories.HistoryRow.Episode;
    }

    /// <summary>The digest of the history in force, as a journal gives it.</summary>
    public string Digest()
    {
        using var digest = new HistoryDigest();
        foreach (var row in History) digest.Add(row.Key.Vehicle, row.Key.Kind, row.Key.Time, row.Key.Key, row.Bytes.AsSpan());
        return digest.ToHex();
    }

    /// <inheritdoc/>
    public WriteOutcome Commit(Batch batch)
    {
        Last = batch;
        var row = 0;
        foreach (var input in batch.Inputs) Keep(new LoggedInput(new Position(batch.Number, row++), input));
        foreach (var change in batch.History) Apply(change);
        foreach (var change in batch.Snapshots) Apply(change);
        return new WriteOutcome.Committed(batch.Rows);
    }

    /// <inheritdoc/>
    public ImmutableArray<LoggedInput> Inputs(InputQuery query)
    {
        if (!_inputs.TryGetValue(query.Vehicle, out var own)) return [];
        if (_unordered.Remove(query.Vehicle)) own.Sort((a, b) => InputPlace.Of(a).CompareTo(InputPlace.Of(b)));
        var page = ImmutableArray.CreateBuilder<LoggedInput>();
        foreach (var input in own)
        {
            if (input.Row.Samples.Least > query.Samples.Greatest || page.Count >= query.Limit) break;
            if ((query.Kind is not { } kind || input.Row.Kind == kind) && input.Row.Samples.Meets(query.Samples) && InputPlace.Of(input) > query.After) page.Add(input);
        }

        return page.ToImmutable();
    }

    /// <inheritdoc/>
    public ImmutableArray<KeptHistory> Touched(VehicleKey vehicle, Moment from) => !_history.TryGetValue(vehicle, out var own) ? []
        : [.. own.Values.Where(r => (r.Touched ?? r.Key.Time) >= from).Select(r => new KeptHistory(Position.Start, r))];

    /// <inheritdoc/>
    public ReadOnlyMemory<byte>? Snapshot(VehicleKey vehicle, Moment upTo) =>
        _snapshots.TryGetValue((vehicle, upTo), out var bytes) ? bytes.AsMemory() : null;

    /// <summary>The moment of the oldest snapshot of a vehicle; <c>null</c> where there is none.</summary>
    public Moment? OldestSnapshot(VehicleKey vehicle)
    {
        Moment? oldest = null;
        foreach (var (of, upTo) in _snapshots.Keys)
            if (of == vehicle && (oldest is not { } known || upTo < known))
                oldest = upTo;
        return oldest;
    }

    /// <summary>Lets go what ended before a moment: messages but for some streams, and rows of history.</summary>
    public void Forget(VehicleKey vehicle, Moment before, Predicate<InputRow> but)
    {
        if (_inputs.TryGetValue(vehicle, out var inputs)) inputs.RemoveAll(i => i.Row.Samples.Greatest < before && !but(i.Row));
        if (!_history.TryGetValue(vehicle, out var rows)) return;
        foreach (var key in rows.Values.Where(r => (r.Touched ?? r.Key.Time) < before).Select(r => r.Key).ToList()) rows.Remove(key);
    }

    private void Keep(LoggedInput input)
    {
        if (!_inputs.TryGetValue(input.Row.Vehicle, out var own)) _inputs.Add(input.Row.Vehicle, own = []);
        if (own.Count > 0 && InputPlace.Of(own[^1]) > InputPlace.Of(input)) _unordered.Add(input.Row.Vehicle);
        own.Add(input);
    }

    private void Apply(HistoryRow change)
    {
        if (!_history.TryGetValue(change.Key.Vehicle, out var own)) _history.Add(change.Key.Vehicle, own = new(Order));
        switch (change)
        {
            case HistoryRow.Put put:
                own[put.Key] = put;
                break;
            case HistoryRow.Void gone:
                own.Remove(gone.Key);
                break;
            default:
                throw new InvalidOperationException($"unknown change {change}");
        }
    }

    private void Apply(SnapshotChange change)
    {
        switch (change)
        {
            case SnapshotChange.Keep keep:
                _snapshots[(keep.Vehicle, keep.UpTo)] = keep.Bytes;
                break;
            case SnapshotChange.Drop drop:
                _snapshots.Remove((drop.Vehicle, drop.UpTo));
                break;
            default:
                throw new InvalidOperationException($"unknown change {change}");
        }
    }

    private static readonly IComparer<HistoryKey> Order = Comparer<HistoryKey>.Create((a, b) =>
        a.Kind.Code.CompareTo(b.Kind.Code) is var kind and not 0 ? kind
        : a.Time.CompareTo(b.Time) is var time and not 0 ? time
        : string.CompareOrdinal(a.Key, b.Key));
}
