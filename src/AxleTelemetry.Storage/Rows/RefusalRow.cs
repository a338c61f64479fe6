using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Storage.Rows;

/// <summary>Bytes that were not taken, with the code of the reason.</summary>
public sealed record RefusalRow(VehicleKey Vehicle, RowKind Reason, Moment Received, ImmutableArray<byte> Bytes);

/// <summary>A refusal with its place.</summary>
public sealed record KeptRefusal(Position Position, RefusalRow Row);

/// <summary>How many refusals of a vehicle are kept, and how many older ones were dropped for room.</summary>
public readonly record struct RefusalTally(long Kept, long Dropped);
