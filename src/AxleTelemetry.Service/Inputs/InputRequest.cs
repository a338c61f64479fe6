using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Service.Inputs;

/// <summary>What a person asked a command to work on, not yet looked at.</summary>
internal sealed record InputRequest
{
    /// <summary>Vehicle files, powered unit first.</summary>
    public required ImmutableArray<string> VehicleFiles { get; init; }

    /// <summary>CSV file of weighbridge tickets; <c>null</c>: the handbook alone.</summary>
    public string? Tickets { get; init; }

    /// <summary>File of limits; <c>null</c>: the shipped table of Directive 96/53/EC.</summary>
    public string? Limits { get; init; }

    /// <summary>File of permits; <c>null</c> for none.</summary>
    public string? Permits { get; init; }

    /// <summary>What is known of the trip.</summary>
    public LimitContext Trip { get; init; } = LimitContext.Undeclared;

    /// <summary>Day up to which calibrations have aged, and on which permits hold; <c>null</c>: as wide as they were made.</summary>
    public Moment? AsOf { get; init; }
}
