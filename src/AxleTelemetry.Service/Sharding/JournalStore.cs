using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Service.Sharding;

/// <summary>A journal, with a reader of its own for the shard's thread.</summary>
internal sealed class JournalStore(Journal journal) : IShardStore, IDisposable
{
    private readonly JournalReader _reader = journal.Reader();

    /// <summary>The journal.</summary>
    public Journal Journal => journal;

    /// <inheritdoc/>
    public WriteOutcome Commit(Batch batch) => journal.Commit(batch);

    /// <inheritdoc/>
    public ImmutableArray<LoggedInput> Inputs(InputQuery query) => _reader.Inputs(query);

    /// <inheritdoc/>
    public ImmutableArray<KeptHistory> Touched(VehicleKey vehicle, Moment from) => _reader.Touched(vehicle, from);

    /// <inheritdoc/>
    public ReadOnlyMemory<byte>? Snapshot(VehicleKey vehicle, Moment upTo) => _reader.Snapshot(vehicle, upTo);

    /// <inheritdoc/>
    public void Dispose()
    {
        _reader.Dispose();
        journal.Dispose();
    }
}
