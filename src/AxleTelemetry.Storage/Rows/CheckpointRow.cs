using System.Collections.Immutable;

namespace AxleTelemetry.Storage.Rows;

/// <summary>A state after its batch; the newest of a vehicle and kind replaces the one before.</summary>
/// <param name="Vehicle">Whose state.</param>
/// <param name="Kind">What state. Rows of a kind stand together, so a small one written often costs little beside large ones of another kind.</param>
/// <param name="StateVersion">The version of the core that understands the bytes.</param>
/// <param name="Bytes">The state.</param>
public sealed record CheckpointRow(VehicleKey Vehicle, RowKind Kind, int StateVersion, ImmutableArray<byte> Bytes);

/// <summary>A checkpoint and the batch that wrote it.</summary>
public sealed record KeptCheckpoint(long Batch, CheckpointRow Row);
