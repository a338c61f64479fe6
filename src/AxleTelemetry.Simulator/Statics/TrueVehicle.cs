using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Simulator.Statics;

/// <summary>
/// One vehicle as it really is, beside the description that its owner believes. Every number that may differ from the
/// description is a field of its own, in kilograms and metres, so that a caller can disturb one of them alone.
/// </summary>
public sealed record TrueVehicle
{
    /// <summary>Load that an axle with relieved bellows still carries, kg. Common practice.</summary>
    public const double UsualResidual = 150;

    /// <summary>What its owner believes: geometry, groups, modes, heights.</summary>
    public required VehicleDescription Description { get; init; }

    /// <summary>Unsprung mass of each axle, kg.</summary>
    public required ImmutableArray<double> Unsprung { get; init; }

    /// <summary>What each axle would have shown at the kerb weighing on a perfect scale, kg; zero for those raised then.</summary>
    public required ImmutableArray<double> KerbLoads { get; init; }

    /// <summary>What the front coupling would have shown then, kg.</summary>
    public required double KerbCoupling { get; init; }

    /// <summary>Factor on each axle's weight in its group: 1 as described.</summary>
    public required ImmutableArray<double> ShareFactors { get; init; }

    /// <summary>Load that each axle carries with relieved bellows, kg.</summary>
    public required ImmutableArray<double> Residuals { get; init; }

    /// <summary>Bellows force of each axle that is regulated or held by its valve, kg; zero where there is none.</summary>
    public required ImmutableArray<double> Forces { get; init; }

    /// <summary>How much of each fixture is aboard: 0 or 1 in truth, one half where the description does not know.</summary>
    public required ImmutableArray<double> FixturesAboard { get; init; }

    /// <summary>Fuel, crew and kit aboard, kg.</summary>
    public required double Service { get; init; }

    /// <summary>Position of the rear coupling, m; zero where there is none.</summary>
    public required double RearCoupling { get; init; }

    /// <summary>Height of the sprung kerb mass, m.</summary>
    public required double KerbHeight { get; init; }

    /// <summary>Height of the payload's centre, m.</summary>
    public required double PayloadHeight { get; init; }

    /// <summary>Factor on the air drag: 1 as described.</summary>
    public double DragFactor { get; init; } = 1;

    /// <summary>A vehicle that is exactly as described.</summary>
    public static TrueVehicle AsDescribed(VehicleDescription vehicle) => new()
    {
        Description = vehicle,
        Unsprung = [.. vehicle.Axles.Select(a => a.Unsprung.Kilograms)],
        KerbLoads = [.. vehicle.Kerb.AxleLoads.Select(m => m.Kilograms)],
        KerbCoupling = vehicle.Kerb.CouplingLoad.Kilograms,
        ShareFactors = [.. vehicle.Axles.Select(_ => 1.0)],
        Residuals = [.. vehicle.Axles.Select(_ => UsualResidual)],
        Forces = [.. vehicle.Axles.Select(a => (a.RegulatedForce ?? a.CeilingForce)?.Kilograms ?? 0)],
        FixturesAboard = [.. vehicle.Fixtures.Select(f => f.State switch
        {
            FixtureState.On => 1.0,
            FixtureState.Off => 0.0,
            _ => 0.5,
        })],
        Service = vehicle.Service?.Mean.Kilograms ?? 0,
        RearCoupling = vehicle.RearCoupling?.Position.Metres ?? 0,
        KerbHeight = vehicle.Kerb.Height.Metres,
        PayloadHeight = vehicle.LoadSpace?.Height.Metres ?? 0,
    };
}
