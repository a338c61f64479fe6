using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Domain.Tests;

/// <summary>Moves the one true number that a considered error is about.</summary>
internal static class Disturbance
{
    public static TrueCombination Apply(TrueCombination truth, ConsideredError error, double by)
    {
        if (error.Body < 0) return truth with { Vehicles = [.. truth.Vehicles.Select(v => v with { DragFactor = 1 + by })] };
        var axle = error.Element - truth.Described.Bodies[error.Body].FirstAxle;
        return truth.With(error.Body, v => error.Kind switch
        {
            ConsideredKind.Unsprung => v with { Unsprung = v.Unsprung.SetItem(axle, v.Unsprung[axle] + by) },
            ConsideredKind.KerbFront => KerbMoved(v, v.Description.Front, by),
            ConsideredKind.KerbRear => KerbMoved(v, v.Description.Rear, by),
            ConsideredKind.Share => v with { ShareFactors = v.ShareFactors.SetItem(axle, 1 + by) },
            ConsideredKind.Residual => v with { Residuals = v.Residuals.SetItem(axle, v.Residuals[axle] + by) },
            ConsideredKind.Regulated => v with { Forces = v.Forces.SetItem(axle, v.Forces[axle] + by) },
            ConsideredKind.Service => v with { Service = v.Service + by },
            ConsideredKind.CouplingPosition => v with { RearCoupling = v.RearCoupling + by },
            ConsideredKind.Fixture => v with
            {
                FixturesAboard = v.FixturesAboard.SetItem(error.Element,
                    v.FixturesAboard[error.Element] + by / v.Description.Fixtures[error.Element].Mass.Kilograms),
            },
            _ => throw new InvalidOperationException($"{error.Kind} belongs to no vehicle."),
        });
    }

    /// <summary>A support that the scale showed too light: spread evenly over its axles, or on the coupling.</summary>
    private static TrueVehicle KerbMoved(TrueVehicle vehicle, AxleGroup? support, double by)
    {
        if (support is null) return vehicle with { KerbCoupling = vehicle.KerbCoupling + by };
        var loads = vehicle.KerbLoads.ToBuilder();
        foreach (var i in support.Axles) loads[i] += by / support.Axles.Length;
        return vehicle with { KerbLoads = loads.ToImmutable() };
    }
}
