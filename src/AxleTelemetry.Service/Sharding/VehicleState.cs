using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Service.Sharding;

/// <summary>A vehicle as it stands; a copy for others to look at.</summary>
internal sealed record VehicleState
{
    /// <summary>Who it is.</summary>
    public required VehicleName Name { get; init; }

    /// <summary>As it is described now.</summary>
    public required VehicleDescription Description { get; init; }

    /// <summary>True while the configuration in force describes it; else it is known by its history alone.</summary>
    public required bool IsDescribed { get; init; }

    /// <summary>Moment of the latest reading; <c>null</c> before the first.</summary>
    public required Moment? NewestReading { get; init; }

    /// <summary>When it was last heard, by our clock; <c>null</c> never.</summary>
    public required Moment? HeardAt { get; init; }

    /// <summary>What it last said of its connection; <c>null</c> where it never did.</summary>
    public required bool? Online { get; init; }

    /// <summary>What became of its readings, ever.</summary>
    public required ReadingCounts Readings { get; init; }

    /// <summary>What was counted of its messages since the shard was opened.</summary>
    public required VehicleCounts Counts { get; init; }

    /// <summary>For a trailer: the unit whose lane takes its readings; <c>null</c> for none.</summary>
    public required VehicleName? Behind { get; init; }

    /// <summary>For a unit: the vehicles of its lane, itself first.</summary>
    public required ImmutableArray<VehicleName> Members { get; init; }

    /// <summary>For a unit: what its lane knows; <c>null</c> before its first step, and while it is restored.</summary>
    public required LaneView? View { get; init; }

    /// <summary>For a unit: why it is followed without a trailer that it says hangs on it; <c>null</c> where it is not.</summary>
    public required string? NotCoupled { get; init; }

    /// <summary>From when on its history is being corrected; <c>null</c> where it is not.</summary>
    public required Moment? CorrectedFrom { get; init; }

    /// <summary>Why its lane stopped by a fault of ours; <c>null</c> where it runs.</summary>
    public required string? StoppedBy { get; init; }
}
