using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Loads;

/// <summary>
/// Where every sharing axle of a group has a circuit of its own, the measured split replaces the declared one, and with
/// it each axle takes on its own sensor's errors.
/// </summary>
internal static class MeasuredSplit
{
    /// <summary>A split is averaged over at most this many settled readings, then follows slowly.</summary>
    private const double Memory = 20;

    /// <summary>Takes a set of settled readings made together.</summary>
    /// <param name="estimator">Knows the circuits.</param>
    /// <param name="known">Receives the split.</param>
    /// <param name="configuration">As it stands, with the axles that a valve holds: those take no share.</param>
    /// <param name="readings">The readings.</param>
    /// <param name="counts">Readings behind each axle's share.</param>
    /// <param name="departures">Receives the largest departure from a declared share of each body, 0 to 1; may be empty.</param>
    public static void Learn(Estimator estimator, KnownErrors known, in Configuration configuration, ReadOnlySpan<CircuitReading> readings, Span<double> counts, Span<double> departures)
    {
        foreach (var body in estimator.Model.Combination.Bodies)
        {
            var departure = Learn(estimator, known, configuration, readings, counts, body, body.Vehicle.Rear);
            if (body.Vehicle.Front is { } front)
                departure = Math.Max(departure, Learn(estimator, known, configuration, readings, counts, body, front));
            if (!departures.IsEmpty) departures[body.Index] = departure;
        }
    }

    private static double Learn(Estimator estimator, KnownErrors known, in Configuration configuration, ReadOnlySpan<CircuitReading> readings, Span<double> counts, BodyPart body, AxleGroup group)
    {
        var mode = body.Vehicle.Modes[Math.Min(configuration.Mode(body.Index), body.Vehicle.Modes.Length - 1)];
        double total = 0, weights = 0;
        var axles = 0;
        foreach (var i in group.Axles)
        {
            if (body.Vehicle.Axles[i].RegulatedForce is not null) continue;
            var axle = body.FirstAxle + i;
            if (!Equilibrium.Shares(body, i, configuration)) return 0;
            if (Find(estimator, readings, axle) is not { } reading) return 0;
            total += estimator.Circuits[reading.Sensor].Fit.At(reading.Pressure) - mode.OffsetKilograms[i];
            weights += mode.Weights[i];
            axles++;
        }

        if (axles < 2 || total <= 0) return 0;
        var departure = 0.0;
        foreach (var i in group.Axles)
        {
            if (body.Vehicle.Axles[i].RegulatedForce is not null) continue;
            var axle = body.FirstAxle + i;
            var reading = Find(estimator, readings, axle)!.Value;
            var load = estimator.Circuits[reading.Sensor].Fit.At(reading.Pressure) - mode.OffsetKilograms[i];
            var declared = mode.Weights[i] / weights;
            departure = Math.Max(departure, Math.Abs(load / total - declared));
            Take(estimator, known, axle, reading, load, (load / total / declared) - 1, ref counts[axle]);
        }

        return departure;
    }

    private static void Take(Estimator estimator, KnownErrors known, int axle, in CircuitReading reading, double load, double relative, ref double count)
    {
        var column = estimator.Model.Budget.ShareColumn(axle);
        var sd = estimator.Model.Budget.Errors[column].Sd;
        Span<double> own = stackalloc double[ErrorBudget.ColumnsPerSensor];
        own.Clear();
        CircuitRows.AddOwnErrors(estimator.Circuits[reading.Sensor], reading, own);
        var spread = 0.0;
        foreach (var error in own) spread += error * error;
        // A sensor that knows the axle less well than the declared law does may not replace it.
        if (load <= 0 || Math.Sqrt(spread) / load > sd) return;

        count = Math.Min(count + 1, Memory);
        known.Deviation[column] += (relative / sd - known.Deviation[column]) / count;
        known.Remaining[column] = Math.Min(1, Math.Sqrt(reading.NoiseVariance / count) / load / sd);
        known.SensorOf(axle) = reading.Sensor;
        var link = known.Link(axle);
        for (var k = 0; k < link.Length; k++) link[k] = own[k] / load / sd;
    }

    private static CircuitReading? Find(Estimator estimator, ReadOnlySpan<CircuitReading> readings, int axle)
    {
        foreach (var reading in readings)
        {
            var part = estimator.Circuits[reading.Sensor].Part;
            if (part.Axles.Length == 1 && part.Axles[0] == axle) return reading;
        }

        return null;
    }
}
