using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Simulator.Recordings;

/// <summary>Who is on the road, and for how long.</summary>
public sealed record RecordingScene
{
    /// <summary>Id of the fleet.</summary>
    public required string Fleet { get; init; }

    /// <summary>Its vehicles. A trailer is pulled by those it can be coupled to, one after another; with none of them it stays parked.</summary>
    public required ImmutableArray<VehicleDescription> Vehicles { get; init; }

    /// <summary>When it begins. Default 2026-03-02T06:00:00Z.</summary>
    public Moment Start { get; init; } = new(1_772_431_200_000);

    /// <summary>How long it lasts, whole seconds. Default two hours.</summary>
    public int Seconds { get; init; } = 7200;
}
