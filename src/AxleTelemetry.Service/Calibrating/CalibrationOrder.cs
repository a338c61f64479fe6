using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Service.Calibrating;

/// <summary>What a person asked for, ranges checked.</summary>
internal sealed record CalibrationOrder
{
    public required FileInfo? Tickets { get; init; }

    /// <summary><c>VEHICLE/SENSOR</c>; <c>null</c> where the file holds one circuit.</summary>
    public required string? Circuit { get; init; }

    /// <summary>Weighings to leave out.</summary>
    public required ImmutableArray<string> Without { get; init; }

    public required HandbookPrior Handbook { get; init; }

    public required Mass Unsprung { get; init; }

    public required Mass TypicalAxleLoad { get; init; }

    public required Moment? At { get; init; }

    public required FileInfo? Picture { get; init; }

    public required bool Json { get; init; }

    public required bool Strict { get; init; }
}
