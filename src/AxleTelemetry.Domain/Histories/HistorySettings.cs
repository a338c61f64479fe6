using System.Collections.Immutable;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>What a history needs to know of its fleet, and how it keeps snapshots. Times in seconds.</summary>
public sealed record HistorySettings
{
    /// <summary>Prepares the lane of vehicles in their versions. The same vehicles in the same versions give an equal one; it is asked again and again, so keep it.</summary>
    public required Func<ImmutableArray<LaneMember>, LaneSetup> Setup { get; init; }

    /// <summary>
    /// True where vehicles in their versions can be one lane. Where not, as after a change of their descriptions, the unit runs without the
    /// trailers from the last one on, until they fit again.
    /// </summary>
    public Func<ImmutableArray<LaneMember>, bool> CanRun { get; init; } = _ => true;

    /// <summary>True for a vehicle that has a lane; a trailer has none.</summary>
    public required Func<VehicleName, bool> IsPowered { get; init; }

    /// <summary>Time between snapshots.</summary>
    public double SnapshotEvery { get; init; } = 600;

    /// <summary>Least time between a snapshot and one for a stop: a queue of traffic is no place for many.</summary>
    public double SnapshotAtStopAfter { get; init; } = 60;

    /// <summary>How far back history can be run again.</summary>
    public double Horizon { get; init; } = 72 * 3600;

    /// <summary>How long readings that were stepped are held, to tell a repeated one without the archive.</summary>
    public double Remember { get; init; } = 30;

    /// <summary>How long couplings and versions are kept behind the horizon: a unit that was silent for so long may still say right what it pulled then.</summary>
    public double RememberFacts { get; init; } = 30 * 86400;
}
