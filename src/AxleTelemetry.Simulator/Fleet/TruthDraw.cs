using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Fleet;

/// <summary>
/// Draws how a vehicle really differs from its description: once per vehicle, since a fixed error does not average away
/// over its days. Spreads are the simulator's own error budget, common practice without a source.
/// </summary>
public static class TruthDraw
{
    private const double UnsprungSd = 40, KerbSd = 60, ShareSd = 0.015, CouplingSd = 0.015;
    private const double ResidualSd = 100, ForceSd = 0.03, OffsetSd = 60, TicketedGainSd = 0.012, HandbookGainSd = 0.06;

    /// <summary>A vehicle with errors of every kind.</summary>
    public static TrueVehicle Vehicle(VehicleDescription description, SeededRandom random)
    {
        var vehicle = TrueVehicle.AsDescribed(description);
        var standing = vehicle.KerbLoads.Count(load => load > 0) + (vehicle.KerbCoupling > 0 ? 1 : 0);
        double KerbError() => random.Normal(KerbSd / Math.Sqrt(standing));
        return vehicle with
        {
            Unsprung = [.. vehicle.Unsprung.Select(u => u + random.Normal(UnsprungSd))],
            KerbLoads = [.. vehicle.KerbLoads.Select(load => load > 0 ? load + KerbError() : 0)],
            KerbCoupling = vehicle.KerbCoupling > 0 ? vehicle.KerbCoupling + KerbError() : 0,
            ShareFactors = [.. vehicle.ShareFactors.Select(_ => 1 + random.Normal(ShareSd))],
            Residuals = [.. vehicle.Residuals.Select(r => Math.Max(0, r + random.Normal(ResidualSd)))],
            Forces = [.. vehicle.Forces.Select(f => f * (1 + random.Normal(ForceSd)))],
            FixturesAboard = [.. vehicle.FixturesAboard.Select(f => f is 0 or 1 ? f : random.Whole(0, 1))],
            Service = description.Service is null ? 0 : random.Between(75, 200) + random.Between(0, 400),
            RearCoupling = vehicle.RearCoupling + random.Normal(CouplingSd),
        };
    }

    /// <summary>A sensor: close to its calibration where tickets stand behind it, to its handbook otherwise.</summary>
    public static SensorTruth Sensor(PressureSensor sensor, bool ticketed, SeededRandom random) => new(
        sensor.Handbook.OffsetKilograms + random.Normal(OffsetSd),
        sensor.Handbook.KilogramsPerKilopascal * (1 + random.Normal(ticketed ? TicketedGainSd : HandbookGainSd)));
}
