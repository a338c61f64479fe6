using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Simulator.Fleet;

/// <summary>Sensors on the air circuits of a vehicle: one for a shared circuit, one for each axle with a circuit of its own.</summary>
internal static class SensorPlan
{
    public static ImmutableArray<PressureSensor> On(SeededRandom random, IReadOnlyList<Axle> axles, params ReadOnlySpan<AxleGroup?> groups)
    {
        var sensors = ImmutableArray.CreateBuilder<PressureSensor>();
        foreach (var group in groups)
        {
            if (group is not { AirSuspension: true } || random.Chance(0.2)) continue;
            int[] shared = [.. group.Axles.Where(a => axles[a].RegulatedForce is null)];
            if (group.Law == ShareLaw.OneCircuit && shared.Length > 0) sensors.Add(Sensor(axles, shared));
            var own = group.Law == ShareLaw.OneCircuit ? group.Axles.Except(shared) : group.Axles;
            foreach (var axle in own) sensors.Add(Sensor(axles, [axle]));
        }

        return sensors.ToImmutable();
    }

    private static PressureSensor Sensor(IReadOnlyList<Axle> axles, int[] circuit)
    {
        // Bellows are chosen so that an axle at its rating takes about 600 kPa. Common practice.
        var rating = axles[circuit[0]].Rating.Kilograms;
        var gain = (rating - axles[circuit[0]].Unsprung.Kilograms) / 600;
        return new PressureSensor
        {
            Key = "p-" + axles[circuit[0]].Key,
            Axles = [.. circuit],
            Handbook = new CircuitFit
            {
                OffsetKilograms = 0,
                KilogramsPerKilopascal = gain,
                OffsetVariance = 150 * 150,
                GainVariance = Math.Pow(0.06 * gain, 2),
                Covariance = 0,
                ResidualKilograms = 0.015 * rating,
                Version = "handbook",
            },
        };
    }
}
