using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Weighings;

/// <summary>
/// Weighs a vehicle, or a combination, as it really is, standing level: rows of a file of tickets from its truth. Errors
/// of the bridge are those the ticket's method stands for; one weighing has one error of the bridge's scale.
/// </summary>
/// <param name="truth">The vehicle, alone or with what it pulls.</param>
/// <param name="sensors">Its sensors in truth, in the order of the combination.</param>
/// <param name="random">What chance there is.</param>
public sealed class Weighbridge(TrueCombination truth, ImmutableArray<SensorTruth> sensors, SeededRandom random)
{
    // Common practice: what friction leaves after rolling on to the bridge with the brakes let go, and the sensor's noise at rest.
    private const double FrictionSd = 0.006, NoiseSd = 0.5;
    private const double Division = 20;

    /// <summary>A row for each circuit whose reference axle is down. Throws <see cref="InvalidOperationException"/> for a load that the vehicle cannot stand under.</summary>
    public ImmutableArray<WeighedRow> Weigh(WeighingPlan plan)
    {
        double[] carried = [plan.Kilograms, plan.Kilograms * plan.Centre];
        if (plan.Behind is { } behind) carried = [.. carried, behind.Kilograms, behind.Kilograms * behind.Centre];
        var stands = DenseStatics.Settle(truth, plan.Standing, carried, default);
        if (stands is not StaticsResult.Stands { Loads: var loads }) throw new InvalidOperationException($"Weighing {plan.Name}: the vehicle does not stand.");
        var gross = loads.Axles.Sum();
        var scale = random.Normal(1);
        return [.. truth.Described.Sensors.Where(part => plan.Standing[part.Axles[0]] == AxleState.Loaded).Select(part => Row(plan, part, loads, (gross, scale)))];
    }

    private WeighedRow Row(WeighingPlan plan, SensorPart part, TrueLoads loads, (double Gross, double Scale) bridge)
    {
        var held = plan.Held?.Sensor == part.Sensor.Key ? plan.Held : null;
        var sprung = loads.Sprung[part.Axles[0]] * (1 + random.Normal(FrictionSd) + (held?.Fraction ?? 0));
        var load = part.Axles.Where(axle => plan.Standing[axle] == AxleState.Loaded && Weight(part, axle) == Weight(part, part.Axles[0])).Average(axle => loads.Axles[axle]);
        var whole = plan.Method == WeighingMethod.FullPlatform;
        return new()
        {
            Weighing = plan.Name,
            At = plan.At,
            Circuit = new(truth.Described.Vehicles[part.Body].Id, part.Sensor.Key),
            Kilopascals = Math.Round(sensors[part.Index].TruthToPressure(sprung, random.Normal(NoiseSd)).Kilopascals, 1),
            AxleKilograms = Printed(load + bridge.Scale * Deviation(plan.Method, load, bridge.Gross)),
            Method = plan.Method,
            GrossKilograms = whole ? Printed(bridge.Gross + bridge.Scale * Deviation(plan.Method, load, bridge.Gross)) : null,
            Note = held?.Note ?? plan.Note,
        };
    }

    // Axles of one circuit that carry alike are weighed for each other; a smaller bellows beside them says nothing of the reference axle.
    private double Weight(SensorPart part, int axle)
    {
        var body = truth.Described.Bodies[part.Body];
        return body.Vehicle.Modes[0].Weights[axle - body.FirstAxle];
    }

    private static double Deviation(WeighingMethod method, double load, double gross) => method switch
    {
        WeighingMethod.FullPlatform => Math.Max(20, 0.001 * gross),
        WeighingMethod.AxleByAxle => 0.015 * load,
        WeighingMethod.Dynamic => 0.03 * load,
        _ => throw new ArgumentOutOfRangeException(nameof(method), method, "A weighing method without an error."),
    };

    private static double Printed(double kilograms) => Division * Math.Round(kilograms / Division);
}
