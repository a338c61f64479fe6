using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Service.Sharding;

/// <summary>Where a shard writes its batches and finds again what it wrote: a journal, or memory.</summary>
internal interface IShardStore
{
    /// <summary>Writes a batch whole or not at all.</summary>
    WriteOutcome Commit(Batch batch);

    /// <summary>Inputs of one vehicle by sample time.</summary>
    ImmutableArray<LoggedInput> Inputs(InputQuery query);

    /// <summary>Rows of history in force of a vehicle that were touched from a moment on.</summary>
    ImmutableArray<KeptHistory> Touched(VehicleKey vehicle, Moment from);

    /// <summary>A snapshot that is kept.</summary>
    ReadOnlyMemory<byte>? Snapshot(VehicleKey vehicle, Moment upTo);
}
