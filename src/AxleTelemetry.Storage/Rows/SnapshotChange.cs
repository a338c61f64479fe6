using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Storage.Rows;

/// <summary>
/// What a batch does to the states kept of a vehicle by event time, from which history can be run again. They are no history: the digest
/// and cursors do not see them, and they stay until they are dropped.
/// </summary>
public abstract record SnapshotChange
{
    private SnapshotChange(VehicleKey vehicle, Moment upTo) => (Vehicle, UpTo) = (vehicle, upTo);

    /// <summary>Whose state.</summary>
    public VehicleKey Vehicle { get; }

    /// <summary>The state holds everything up to this moment.</summary>
    public Moment UpTo { get; }

    /// <summary>From now on there is this state, whatever was kept for the moment before.</summary>
    public sealed record Keep(VehicleKey Vehicle, Moment UpTo, ImmutableArray<byte> Bytes) : SnapshotChange(Vehicle, UpTo);

    /// <summary>From now on there is none for this moment.</summary>
    public sealed record Drop(VehicleKey Vehicle, Moment UpTo) : SnapshotChange(Vehicle, UpTo);
}
