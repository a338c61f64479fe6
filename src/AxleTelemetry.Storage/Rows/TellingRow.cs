using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Storage.Rows;

/// <summary>Something told: appended once, never changed.</summary>
public sealed record TellingRow(VehicleKey Vehicle, RowKind Kind, string Key)
{
    /// <summary>When it became known.</summary>
    public required Moment At { get; init; }

    /// <summary>What was told.</summary>
    public required ImmutableArray<byte> Bytes { get; init; }
}
