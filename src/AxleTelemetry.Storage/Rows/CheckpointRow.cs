using System.Collections.Immutable;

namespace AxleTelemetry.Storage.Rows;

/// <summary>The whole state of a lane after its batch; the newest replaces the one before.</summary>
/// <param name="Vehicle">Whose lane.</param>
/// <param name="StateVersion">The version of the core that understands the bytes.</param>
/// <param name="Bytes">The state.</param>
public sealed record CheckpointRow(VehicleKey Vehicle, int StateVersion, ImmutableArray<byte> Bytes);

/// <summary>A checkpoint and the batch that wrote it.</summary>
public sealed record KeptCheckpoint(long Batch, CheckpointRow Row);
