using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>A store in memory that keeps what was told too, and takes nothing while it is told not to.</summary>
internal sealed class TellingStore : IShardStore
{
    private readonly MemoryStore _memory = new();
    private volatile bool _isFull;

    /// <summary>Every change of an alert that was committed.</summary>
    public List<AlertChangeDocument> Told { get; } = [];

    /// <summary>True while no batch is taken.</summary>
    public bool IsFull
    {
        get => _isFull;
        set => _isFull = value;
    }

    public WriteOutcome Commit(Batch batch)
    {
        if (IsFull) return new WriteOutcome.Failed(true, "The disk does not answer.");
        Told.AddRange(batch.Telling.Where(t => t.Kind == Codes.AlertTold).Select(t => AlertChangeJson.Read(t.Bytes.AsSpan())!));
        return _memory.Commit(batch);
    }

    public ImmutableArray<LoggedInput> Inputs(InputQuery query) => _memory.Inputs(query);

    public ImmutableArray<KeptHistory> Touched(VehicleKey vehicle, Moment from) => _memory.Touched(vehicle, from);

    public ReadOnlyMemory<byte>? Snapshot(VehicleKey vehicle, Moment upTo) => _memory.Snapshot(vehicle, upTo);
}
