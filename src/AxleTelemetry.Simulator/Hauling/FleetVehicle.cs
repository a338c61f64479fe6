using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Hauling;

/// <summary>One vehicle of a drawn fleet: what its owner believes, and what is true.</summary>
public sealed record FleetVehicle
{
    /// <summary>Whose it is.</summary>
    public required Haulier Haulier { get; init; }

    /// <summary>Its file, as the owner keeps it.</summary>
    public required string File { get; init; }

    /// <summary>What the file says.</summary>
    public required VehicleDescription Description { get; init; }

    /// <summary>What is true; fuel and crew are drawn anew each day.</summary>
    public required TrueVehicle Truth { get; init; }

    /// <summary>Its sensors in truth, in the order of the description.</summary>
    public required ImmutableArray<SensorTruth> Sensors { get; init; }

    /// <summary>How its device sends; <c>null</c> for a trailer without one.</summary>
    internal DeviceHabits? Habits { get; init; }

    internal ulong Seed { get; init; }

    /// <summary>Its identity.</summary>
    public string Id => Description.Id;

    /// <summary>Chance of its own on a day, for one purpose; drawing more for one shifts nothing for another.</summary>
    internal SeededRandom On(int day, int purpose) => new(new SeededRandom(Seed ^ ((ulong)day << 20) ^ ((ulong)purpose << 8)).Next());
}
