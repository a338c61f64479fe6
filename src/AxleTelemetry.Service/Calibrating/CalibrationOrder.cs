using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Service.Calibrating;

/// <summary>What a person asked for, ranges checked.</summary>
internal sealed record CalibrationOrder
{
    /// <summary>File of tickets; <c>null</c>: the handbook alone.</summary>
    public required string? Tickets { get; init; }

    /// <summary><c>VEHICLE/SENSOR</c> or <c>SENSOR</c>; <c>null</c>: the only one of the tickets, or all of the vehicle.</summary>
    public required string? Circuit { get; init; }

    /// <summary>Weighings to leave out.</summary>
    public required ImmutableArray<string> Without { get; init; }

    public required HandbookSource Handbook { get; init; }

    public required Moment? At { get; init; }

    public required FileInfo? Picture { get; init; }

    public required bool Json { get; init; }

    public required bool Strict { get; init; }

    /// <summary>True where as many sheets come as the vehicle has circuits, though it be one.</summary>
    public bool EachCircuit => Handbook is HandbookSource.Described && Circuit is null;
}

/// <summary>Where handbook, unsprung mass and full axle load come from.</summary>
internal abstract record HandbookSource
{
    private HandbookSource() { }

    /// <summary>From options, for one circuit.</summary>
    public sealed record Stated(CircuitSetup Setup) : HandbookSource;

    /// <summary>From a vehicle file, for each circuit of the vehicle.</summary>
    public sealed record Described(string File) : HandbookSource;
}
