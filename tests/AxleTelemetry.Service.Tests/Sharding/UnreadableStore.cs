using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>A store on a disk that now and then does not answer: it is read in vain as often as it is told to be.</summary>
internal sealed class UnreadableStore(IShardStore store) : IShardStore
{
    /// <summary>How many reads from now on are answered before <see cref="Fails"/> counts.</summary>
    public int Answers { get; set; }

    /// <summary>How many reads fail after that.</summary>
    public int Fails { get; set; }

    /// <summary>Reads that failed.</summary>
    public int Failed { get; private set; }

    public WriteOutcome Commit(Batch batch) => store.Commit(batch);

    public ImmutableArray<LoggedInput> Inputs(InputQuery query) => Read(() => store.Inputs(query));

    public ImmutableArray<KeptHistory> Touched(VehicleKey vehicle, Moment from) => Read(() => store.Touched(vehicle, from));

    public ReadOnlyMemory<byte>? Snapshot(VehicleKey vehicle, Moment upTo) => Read(() => store.Snapshot(vehicle, upTo));

    private T Read<T>(Func<T> read)
    {
        if (Fails == 0) return read();
        if (Answers > 0)
        {
            Answers--;
            return read();
        }

        Fails--;
        Failed++;
        throw new IOException("The disk does not answer.");
    }
}
