using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Loads;

/// <summary>What a circuit should read for a payload state, and how every considered error moves that.</summary>
internal sealed class CircuitRows(LoadModel model, ImmutableArray<Circuit> circuits, ShareErrors shares)
{
    /// <summary>
    /// Measurement row of a circuit: coefficients on the state, return value the constant, and J: the change of
    /// 'reading minus expectation' per considered error.
    /// </summary>
    public double Derive(PayloadEstimate estimate, KnownErrors known, LoadMap map, in Motion motion, in CircuitReading reading, Span<double> row, Span<double> effect)
    {
        var circuit = circuits[reading.Sensor];
        Span<double> coefficients = stackalloc double[map.Width];
        row.Clear();
        effect.Clear();
        double constant = 0, drag = 0, bellows = 0;
        var mode = ModeOf(circuit, map.Configuration);
        var reference = mode.Weights[circuit.Part.Sensor.Axles[0]];
        var first = model.Combination.Bodies[circuit.Part.Body].FirstAxle;
        foreach (var axle in circuit.Part.Axles)
        {
            if (map.Configuration[axle] != AxleState.Loaded) continue;
            map.Measured(axle, motion, coefficients);
            for (var k = 0; k < row.Length; k++) row[k] += coefficients[k];
            constant += coefficients[^1] - model.Combination.Axles[axle].Axle.Unsprung.Kilograms;
            drag += map.Feels(axle, estimate.State).PerSpeedSquared * motion.SpeedSquared;
            // A regulated axle takes no share: what its circuit feels is the force it keeps, whatever the payload.
            bellows += reference > 0 ? mode.Weights[axle - first] / reference : 1;
            AddVehicleErrors(estimate, known, map, axle, ref constant, effect);
        }

        for (var k = 0; k < row.Length; k++) row[k] /= bellows;
        for (var e = 0; e < model.Budget.FirstSensorColumn; e++) effect[e] /= bellows;
        // Links of measured shares have put slopes on sensor columns already: scale those too, then add the sensor's own.
        for (var e = model.Budget.FirstSensorColumn; e < effect.Length; e++) effect[e] /= bellows;
        effect[model.Budget.Drag] += drag / bellows * ErrorBudget.DragRelativeSd;
        constant /= bellows;
        if (circuit.Part.Axles.Length > 1) constant += AddCircuitSplit(known, circuit.Part, map, mode, constant + Estimator.Dot(row, estimate.State), effect);
        AddOwnErrors(circuit, reading, effect[model.Budget.SensorColumn(reading.Sensor)..]);
        return constant;
    }

    /// <summary>
    /// A calibration is of the reference axle, what a circuit over several axles feels is their mean: between the two lies how
    /// the reference axle's share departs. Also where it is off the road. Returns what is known of it, kg.
    /// </summary>
    private double AddCircuitSplit(KnownErrors known, SensorPart part, LoadMap map, SuspensionMode mode, double felt, Span<double> effect)
    {
        var first = model.Combination.Bodies[part.Body].FirstAxle;
        var weights = 0.0;
        foreach (var axle in part.Axles)
            if (map.Configuration[axle] == AxleState.Loaded) weights += mode.Weights[axle - first];
        var constant = 0.0;
        foreach (var axle in part.Axles)
        {
            var column = model.Budget.ShareColumn(axle);
            if (column < 0 || weights <= 0) continue;
            var relative = axle == part.Axles[0] ? 1.0 : 0.0;
            if (map.Configuration[axle] == AxleState.Loaded) relative -= mode.Weights[axle - first] / weights;
            var slope = relative * felt * model.Budget.Errors[column].Sd;
            constant += known.Deviation[column] * slope;
            shares.Spread(known, column, slope, effect);
        }

        return constant;
    }

    private void AddVehicleErrors(PayloadEstimate estimate, KnownErrors known, LoadMap map, int axle, ref double constant, Span<double> effect)
    {
        Span<double> slopes = stackalloc double[map.Errors];
        map.Slopes(axle, estimate.State, slopes);
        // The bellows carry the sprung load: a heavier axle changes what stands on the road, not what they feel of it.
        var unsprung = model.Budget.UnsprungColumn(axle);
        slopes[unsprung] -= model.Budget.Errors[unsprung].Sd;
        var deviation = known.Deviation;
        for (var e = 0; e < slopes.Length; e++)
        {
            constant += deviation[e] * slopes[e];
            shares.Spread(known, e, slopes[e], effect);
        }
    }

    /// <summary>Errors of the sensor itself, in 'true = read + error': a positive one makes the reading too small.</summary>
    public static void AddOwnErrors(Circuit circuit, in CircuitReading reading, Span<double> columns)
    {
        var load = circuit.Fit.At(reading.Pressure);
        columns[0] -= circuit.GainEffect(reading.Pressure);
        columns[1] -= circuit.OffsetEffect;
        columns[2] -= Estimator.LegRelativeSd * load;
        columns[3] -= circuit.Fit.KilogramsPerKilopascal * reading.PressureSd;
        if (circuit.OneSided) columns[4] -= Estimator.OtherSideRelativeSd * load;
        columns[5] -= Math.Sqrt(circuit.Fit.ExtrapolationVarianceAt(reading.Pressure));
    }

    private SuspensionMode ModeOf(Circuit circuit, in Configuration configuration)
    {
        var modes = model.Combination.Bodies[circuit.Part.Body].Vehicle.Modes;
        return modes[Math.Min(configuration.Mode(circuit.Part.Body), modes.Length - 1)];
    }
}
