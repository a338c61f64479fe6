using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Loads;

/// <summary>
/// Infers the payload state from circuit readings. The gain comes from noise alone; calibration and model errors are
/// considered: carried by their sensitivity into every interval, never estimated (a filter that estimates them slowly
/// calibrates the sensor to the average prior payload, and its intervals become untrue).
/// </summary>
public sealed class Estimator
{
    /// <summary>Leg-constant error of each circuit, relative: crown, wind and grade of one stretch of road. Common practice.</summary>
    public const double LegRelativeSd = 0.007;

    /// <summary>The unmeasured side: sd 8 % of that side, which is half the axle. Common practice.</summary>
    public const double OtherSideRelativeSd = 0.04;

    private const double LeastPlaceMass = 500;
    private const int MostPasses = 25;

    // How many standard deviations of the mass towards empty its fill is taken at: with one, a bare trailer is covered
    // in 90 % of cases only; with two and a half, in 93 % (EstimatorCoverage).
    private const double FillDoubt = 2.5;
    private readonly ImmutableArray<BodyPart> _carrying;

    // Axle whose share a column is of, -1 for all others.
    private readonly int[] _shareOf;
    private readonly int[] _shares;

    /// <summary>Prepares an estimator for a combination whose circuits are calibrated as given, one per sensor.</summary>
    public Estimator(LoadModel model, ImmutableArray<Circuit> circuits)
    {
        Model = model;
        Circuits = circuits;
        _carrying = [.. model.Combination.Bodies.Where(b => b.StateIndex >= 0)];
        _shareOf = [.. model.Budget.Errors.Select(e => e.Kind == ConsideredKind.Share ? e.Element : -1)];
        _shares = [.. Enumerable.Range(0, _shareOf.Length).Where(e => _shareOf[e] >= 0)];
    }

    /// <summary>The statics.</summary>
    public LoadModel Model { get; }

    /// <summary>The circuits, one per sensor.</summary>
    public ImmutableArray<Circuit> Circuits { get; }

    /// <summary>A new estimate that knows nothing yet.</summary>
    public PayloadEstimate NewEstimate() => new(Model.Combination.StateSize, Model.Budget.Count);

    /// <summary>Nothing known of any error yet.</summary>
    public KnownErrors NewKnownErrors() => new(Model.Budget.Count, Model.Combination.Axles.Length);

    /// <summary>A new load begins: payload nearly flat from zero to well over the permitted mass, its place as the load space says.</summary>
    public void BeginLoad(PayloadEstimate estimate)
    {
        estimate.Cells.AsSpan().Clear();
        estimate.Readings = 0;
        estimate.PlaceIsOpen = true;
        foreach (var body in _carrying)
        {
            var space = body.Vehicle.LoadSpace!;
            var permitted = space.Permitted.Kilograms;
            int p = body.StateIndex, n = estimate.States;
            var onMass = 1 / (permitted * permitted);
            var onMoment = onMass / 100;
            estimate.Information[p * n + p] = onMass;
            estimate.Information[(p + 1) * n + p + 1] = onMoment;
            estimate.InformationVector[p] = onMass * 0.5 * permitted;
            estimate.InformationVector[p + 1] = onMoment * 0.5 * permitted * space.Centre.Metres;
        }

        SolveFrom(estimate, false);
    }

    /// <summary>
    /// Takes readings of circuits made together. Iterates so that neither the place of the payload nor the slope of the
    /// considered errors is ever taken at the prior mean.
    /// </summary>
    public void Take(PayloadEstimate estimate, KnownErrors known, LoadMap map, in Motion motion, ReadOnlySpan<CircuitReading> readings)
    {
        Span<double> information = stackalloc double[estimate.Information.Length];
        Span<double> vector = stackalloc double[estimate.States];
        Span<double> errors = stackalloc double[estimate.ErrorInformation.Length];
        estimate.Information.CopyTo(information);
        estimate.InformationVector.CopyTo(vector);
        estimate.ErrorInformation.CopyTo(errors);
        // The first reading of a load changes the estimate most: its error slopes need a second look.
        var passes = estimate.Readings == 0 ? 4 : 1;
        for (var pass = 0; pass < passes; pass++)
        {
            information.CopyTo(estimate.Information);
            vector.CopyTo(estimate.InformationVector);
            errors.CopyTo(estimate.ErrorInformation);
            foreach (var reading in readings) Gather(estimate, known, map, motion, reading);
            SolveFrom(estimate, pass > 0 || estimate.Readings > 0);
        }

        estimate.Readings++;
    }

    /// <summary>
    /// A new leg with the same load: what the last leg's road did becomes plain noise, and the readings to come bring their own.
    /// </summary>
    public void BeginLeg(PayloadEstimate estimate)
    {
        if (estimate.Readings == 0) return;
        Rebase(estimate, default);
    }

    /// <summary>
    /// The load may have changed a little (fuel burnt beyond what is counted, a body that discharges): widens the estimate.
    /// </summary>
    /// <param name="estimate">Estimate to widen.</param>
    /// <param name="body">Body whose payload moved.</param>
    /// <param name="massSd">Standard deviation of the change of mass, kg.</param>
    public void Loosen(PayloadEstimate estimate, BodyPart body, double massSd)
    {
        if (estimate.Readings == 0 || body.StateIndex < 0) return;
        Span<double> added = stackalloc double[estimate.States];
        added[body.StateIndex] = massSd;
        added[body.StateIndex + 1] = massSd * body.Vehicle.LoadSpace!.Centre.Metres;
        Rebase(estimate, added);
    }

    /// <summary>Difference between a reading and what the estimate expects, with its standard deviation.</summary>
    public Estimated Innovation(PayloadEstimate estimate, KnownErrors known, LoadMap map, in Motion motion, in CircuitReading reading)
    {
        Span<double> row = stackalloc double[estimate.States];
        Span<double> effect = stackalloc double[estimate.Errors];
        var expected = Row(estimate, known, map, motion, reading, row, effect);
        var load = Circuits[reading.Sensor].Fit.At(reading.Pressure);
        var difference = load - expected - Dot(row, estimate.State);
        Subtract(estimate, row, effect);
        var variance = reading.NoiseVariance + Quadratic(row, estimate.Covariance) + Columns.Dot(effect, effect);

        return new Estimated(difference, Math.Sqrt(variance));
    }

    /// <summary>Payload of all bodies together, kg.</summary>
    public Estimated PayloadOf(PayloadEstimate estimate)
    {
        Span<double> masses = stackalloc double[estimate.States];
        for (var i = 0; i < masses.Length; i += 2) masses[i] = 1;
        var variance = Quadratic(masses, estimate.Covariance);
        for (var e = 0; e < estimate.Errors; e++)
        {
            var moved = 0.0;
            for (var i = 0; i < masses.Length; i += 2) moved += estimate.Sensitivity[i * estimate.Errors + e];
            variance += moved * moved;
        }

        return new Estimated(Dot(masses, estimate.State), Math.Sqrt(variance));
    }

    /// <summary>A load, group, gross or margin with its standard deviation.</summary>
    public Estimated Evaluate(PayloadEstimate estimate, KnownErrors known, LinearForm form) =>
        Evaluate(estimate, known, form, estimate.State);

    /// <summary>The same at another payload state reached by a known change: what would hold after a remedy.</summary>
    public Estimated Evaluate(PayloadEstimate estimate, KnownErrors known, LinearForm form, ReadOnlySpan<double> state)
    {
        Span<double> effect = stackalloc double[estimate.Errors];
        var mean = FormEffect(form, known, state, effect);
        var row = form.Level[..estimate.States];
        Subtract(estimate, row, effect);
        var variance = Quadratic(row, estimate.Covariance) + Columns.Dot(effect, effect);
        return new Estimated(mean, Math.Sqrt(variance));
    }

    /// <summary>Takes what the state's own errors already bring off the slopes: what is left is the error of the form, sign turned.</summary>
    private static void Subtract(PayloadEstimate estimate, ReadOnlySpan<double> row, Span<double> effect)
    {
        var sensitivity = estimate.Sensitivity;
        for (var k = 0; k < row.Length; k++) Columns.AddScaled(effect, -row[k], sensitivity.Slice(k * effect.Length, effect.Length));
    }

    /// <summary>Variance that each considered error brings into a form, kg2; the last entry receives that of noise and place.</summary>
    public void Sources(PayloadEstimate estimate, KnownErrors known, LinearForm form, Span<double> variances)
    {
        Span<double> effect = stackalloc double[estimate.Errors];
        FormEffect(form, known, estimate.State, effect);
        var row = form.Level[..estimate.States];
        Subtract(estimate, row, effect);
        for (var e = 0; e < estimate.Errors; e++) variances[e] = effect[e] * effect[e];

        variances[estimate.Errors] = Quadratic(row, estimate.Covariance);
    }

    /// <summary>Mean of a form and its slope per considered error, known parts applied. The slopes come in as zeros.</summary>
    private double FormEffect(LinearForm form, KnownErrors known, ReadOnlySpan<double> state, Span<double> effect)
    {
        var slopes = effect[..form.Errors];
        form.Slopes(state, slopes);
        var mean = LoadMap.Value(form.Level, state) + Columns.Dot(known.Deviation[..slopes.Length], slopes);
        // Measured shares first: they need the whole slope.
        foreach (var e in _shares) SpreadMeasured(known, _shareOf[e], slopes[e], effect);
        var remaining = known.Remaining;
        for (var e = 0; e < slopes.Length; e++) slopes[e] *= remaining[e];
        return mean;
    }

    /// <summary>Puts the slope of one vehicle error where its remaining spread is: on itself, and for a measured share on its sensor.</summary>
    private void Spread(KnownErrors known, int error, double slope, Span<double> effect)
    {
        effect[error] += slope * known.Remaining[error];
        if (_shareOf[error] >= 0) SpreadMeasured(known, _shareOf[error], slope, effect);
    }

    private void SpreadMeasured(KnownErrors known, int axle, double slope, Span<double> effect)
    {
        if (known.SensorOf(axle) < 0) return;
        var first = Model.Budget.SensorColumn((int)known.SensorOf(axle));
        var link = known.Link(axle);
        for (var k = 0; k < link.Length; k++) effect[first + k] -= slope * link[k];
    }

    /// <summary>
    /// Measurement row of a circuit: coefficients on the state, return value the constant, and J: the change of
    /// 'reading minus expectation' per considered error.
    /// </summary>
    private double Row(PayloadEstimate estimate, KnownErrors known, LoadMap map, in Motion motion, in CircuitReading reading, Span<double> row, Span<double> effect)
    {
        var circuit = Circuits[reading.Sensor];
        Span<double> coefficients = stackalloc double[map.Width];
        row.Clear();
        effect.Clear();
        double constant = 0, drag = 0, bellows = 0;
        var mode = ModeOf(circuit, map.Configuration);
        var reference = mode.Weights[circuit.Part.Sensor.Axles[0]];
        var first = Model.Combination.Bodies[circuit.Part.Body].FirstAxle;
        foreach (var axle in circuit.Part.Axles)
        {
            if (map.Configuration[axle] != AxleState.Loaded) continue;
            map.Measured(axle, motion, coefficients);
            for (var k = 0; k < row.Length; k++) row[k] += coefficients[k];
            constant += coefficients[^1] - Model.Combination.Axles[axle].Axle.Unsprung.Kilograms;
            drag += map.Feels(axle, estimate.State).PerSpeedSquared * motion.SpeedSquared;
            // A regulated axle takes no share: what its circuit feels is the force it keeps, whatever the payload.
            bellows += reference > 0 ? mode.Weights[axle - first] / reference : 1;
            AddVehicleErrors(estimate, known, map, axle, ref constant, effect);
        }

        for (var k = 0; k < row.Length; k++) row[k] /= bellows;
        for (var e = 0; e < Model.Budget.FirstSensorColumn; e++) effect[e] /= bellows;
        // Links of measured shares have put slopes on sensor columns already: scale those too, then add the sensor's own.
        for (var e = Model.Budget.FirstSensorColumn; e < effect.Length; e++) effect[e] /= bellows;
        effect[Model.Budget.Drag] += drag / bellows * ErrorBudget.DragRelativeSd;
        constant /= bellows;
        if (circuit.Part.Axles.Length > 1) constant += AddCircuitSplit(known, circuit.Part, map, mode, constant + Dot(row, estimate.State), effect);
        AddOwnErrors(circuit, reading, effect[Model.Budget.SensorColumn(reading.Sensor)..]);
        return constant;
    }

    /// <summary>
    /// A calibration is of the reference axle, what a circuit over several axles feels is their mean: between the two lies how
    /// the reference axle's share departs. Also where it is off the road. Returns what is known of it, kg.
    /// </summary>
    private double AddCircuitSplit(KnownErrors known, SensorPart part, LoadMap map, SuspensionMode mode, double felt, Span<double> effect)
    {
        var first = Model.Combination.Bodies[part.Body].FirstAxle;
        var weights = 0.0;
        foreach (var axle in part.Axles)
            if (map.Configuration[axle] == AxleState.Loaded) weights += mode.Weights[axle - first];
        var constant = 0.0;
        foreach (var axle in part.Axles)
        {
            var column = Model.Budget.ShareColumn(axle);
            if (column < 0 || weights <= 0) continue;
            var relative = axle == part.Axles[0] ? 1.0 : 0.0;
            if (map.Configuration[axle] == AxleState.Loaded) relative -= mode.Weights[axle - first] / weights;
            var slope = relative * felt * Model.Budget.Errors[column].Sd;
            constant += known.Deviation[column] * slope;
            Spread(known, column, slope, effect);
        }

        return constant;
    }

    private void AddVehicleErrors(PayloadEstimate estimate, KnownErrors known, LoadMap map, int axle, ref double constant, Span<double> effect)
    {
        for (var e = 0; e < map.Errors; e++)
        {
            var slope = LoadMap.Value(map.Sensitivity(e, axle), estimate.State);
            // The bellows carry the sprung load: a heavier axle changes what stands on the road, not what they feel of it.
            var considered = Model.Budget.Errors[e];
            if (considered.Kind == ConsideredKind.Unsprung && considered.Element == axle) slope -= considered.Sd;
            constant += known.Deviation[e] * slope;
            Spread(known, e, slope, effect);
        }
    }

    /// <summary>Errors of the sensor itself, in 'true = read + error': a positive one makes the reading too small.</summary>
    internal static void AddOwnErrors(Circuit circuit, in CircuitReading reading, Span<double> columns)
    {
        var load = circuit.Fit.At(reading.Pressure);
        columns[0] -= circuit.GainEffect(reading.Pressure);
        columns[1] -= circuit.OffsetEffect;
        columns[2] -= LegRelativeSd * load;
        columns[3] -= circuit.Fit.KilogramsPerKilopascal * reading.PressureSd;
        if (circuit.OneSided) columns[4] -= OtherSideRelativeSd * load;
        columns[5] -= Math.Sqrt(circuit.Fit.ExtrapolationVarianceAt(reading.Pressure));
    }

    private SuspensionMode ModeOf(Circuit circuit, in Configuration configuration)
    {
        var modes = Model.Combination.Bodies[circuit.Part.Body].Vehicle.Modes;
        return modes[Math.Min(configuration.Mode(circuit.Part.Body), modes.Length - 1)];
    }

    private void Gather(PayloadEstimate estimate, KnownErrors known, LoadMap map, in Motion motion, in CircuitReading reading)
    {
        Span<double> row = stackalloc double[estimate.States];
        Span<double> effect = stackalloc double[estimate.Errors];
        var expected = Row(estimate, known, map, motion, reading, row, effect);
        var value = Circuits[reading.Sensor].Fit.At(reading.Pressure) - expected;
        var weight = 1 / reading.NoiseVariance;
        int n = estimate.States, m = estimate.Errors;
        for (var i = 0; i < n; i++)
        {
            estimate.InformationVector[i] += weight * row[i] * value;
            for (var k = 0; k < n; k++) estimate.Information[i * n + k] += weight * row[i] * row[k];
            var line = estimate.ErrorInformation.Slice(i * m, m);
            for (var e = 0; e < m; e++) line[e] += weight * row[i] * effect[e];
        }
    }

    /// <summary>Solves for state, covariance and sensitivity, weighing the place of the payload at the estimate it leads to.</summary>
    private void SolveFrom(PayloadEstimate estimate, bool startAtEstimate)
    {
        Span<double> masses = stackalloc double[_carrying.Length];
        Span<double> spreads = stackalloc double[_carrying.Length];
        spreads.Clear();
        for (var b = 0; b < masses.Length; b++)
            masses[b] = startAtEstimate ? estimate.State[_carrying[b].StateIndex] : _carrying[b].Vehicle.LoadSpace!.Permitted.Kilograms;
        for (var pass = 0; pass < MostPasses; pass++)
        {
            SolveAt(estimate, masses, spreads);
            if (!estimate.PlaceIsOpen) return;
            var moved = 0.0;
            for (var b = 0; b < masses.Length; b++)
            {
                var mass = estimate.State[_carrying[b].StateIndex];
                moved = Math.Max(moved, Math.Abs(mass - masses[b]) / Math.Max(Math.Abs(mass), LeastPlaceMass));
                masses[b] = mass;
                spreads[b] = SpreadOf(estimate, _carrying[b].StateIndex);
            }

            if (moved < 0.01) return;
        }
    }

    /// <summary>Standard deviation of one number of the state, from noise and considered errors.</summary>
    public static double SpreadOf(PayloadEstimate estimate, int index)
    {
        var variance = estimate.Covariance[index * estimate.States + index];
        foreach (var moved in estimate.Sensitivity.Slice(index * estimate.Errors, estimate.Errors)) variance += moved * moved;
        return Math.Sqrt(variance);
    }

    private void SolveAt(PayloadEstimate estimate, ReadOnlySpan<double> masses, ReadOnlySpan<double> spreads)
    {
        int n = estimate.States, m = estimate.Errors;
        estimate.Information.CopyTo(estimate.Covariance);
        if (estimate.PlaceIsOpen)
            for (var b = 0; b < _carrying.Length; b++)
                AddPlace(estimate.Covariance, n, _carrying[b], masses[b], spreads[b]);
        if (!SmallMatrix.Invert(estimate.Covariance, n))
            throw new InvalidOperationException("The information about the payload is not positive definite.");
        for (var i = 0; i < n; i++)
        {
            estimate.State[i] = Dot(estimate.Covariance.Slice(i * n, n), estimate.InformationVector);
            for (var e = 0; e < m; e++)
            {
                var sum = 0.0;
                for (var k = 0; k < n; k++) sum += estimate.Covariance[i * n + k] * estimate.ErrorInformation[k * m + e];
                estimate.Sensitivity[i * m + e] = sum;
            }
        }
    }

    /// <summary>The expected place as a measurement: 0 = moment - centre x mass, as sharp as the space allows at that mass.</summary>
    private static void AddPlace(Span<double> information, int n, BodyPart body, double mass, double spread)
    {
        var space = body.Vehicle.LoadSpace!;
        // How full the space is, is known no better than the mass itself: the emptier end counts, where a load may sit anywhere.
        // Where the mass is poorly known it goes with the place (more mass further from the sensed support), and the
        // inverse of a normal lever is skewed: to second order its variance is r2 + 8 r4, with r the relative spread.
        var sd = PlaceSd(space, mass - FillDoubt * spread) * Math.Sqrt(Math.Max(mass * mass, LeastPlaceMass * LeastPlaceMass) + 8 * spread * spread);
        double x = space.Centre.Metres, weight = 1 / (sd * sd);
        var p = body.StateIndex;
        information[p * n + p] += weight * x * x;
        information[p * n + p + 1] -= weight * x;
        information[(p + 1) * n + p] -= weight * x;
        information[(p + 1) * n + p + 1] += weight;
    }

    /// <summary>Spread of the payload's centre: a part load may sit anywhere, a full one fills the space.</summary>
    public static double PlaceSd(LoadSpace space, double mass)
    {
        // A part load is below 60 % of what is permitted, a full one above 90 %. Common practice.
        var fill = Math.Clamp((mass / space.Permitted.Kilograms - 0.6) / 0.3, 0, 1);
        return space.PartLoadSd.Metres + fill * (space.FullLoadSd.Metres - space.PartLoadSd.Metres);
    }

    /// <summary>
    /// Makes the present solution the new prior: leg-constant errors turn into noise, other errors keep their slope.
    /// </summary>
    private void Rebase(PayloadEstimate estimate, ReadOnlySpan<double> added)
    {
        int n = estimate.States, m = estimate.Errors;
        var covariance = estimate.Covariance;
        for (var e = 0; e < m; e++)
        {
            if (Model.Budget.Errors[e].Kind is not (ConsideredKind.Leg or ConsideredKind.Environment)) continue;
            for (var i = 0; i < n; i++)
                for (var k = 0; k < n; k++)
                    covariance[i * n + k] += estimate.Sensitivity[i * m + e] * estimate.Sensitivity[k * m + e];
            for (var i = 0; i < n; i++) estimate.Sensitivity[i * m + e] = 0;
        }

        for (var i = 0; i < added.Length; i++)
            for (var k = 0; k < added.Length; k++)
                covariance[i * n + k] += added[i] * added[k];
        covariance.CopyTo(estimate.Information);
        if (!SmallMatrix.Invert(estimate.Information, n))
            throw new InvalidOperationException("The covariance of the payload is not positive definite.");
        for (var i = 0; i < n; i++)
        {
            estimate.InformationVector[i] = Dot(estimate.Information.Slice(i * n, n), estimate.State);
            for (var e = 0; e < m; e++)
            {
                var sum = 0.0;
                for (var k = 0; k < n; k++) sum += estimate.Information[i * n + k] * estimate.Sensitivity[k * m + e];
                estimate.ErrorInformation[i * m + e] = sum;
            }
        }

        estimate.PlaceIsOpen = false;
    }

    private static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        var sum = 0.0;
        for (var k = 0; k < a.Length; k++) sum += a[k] * b[k];
        return sum;
    }

    private static double Quadratic(ReadOnlySpan<double> row, ReadOnlySpan<double> covariance)
    {
        var sum = 0.0;
        for (var i = 0; i < row.Length; i++) sum += row[i] * Dot(covariance.Slice(i * row.Length, row.Length), row);
        return sum;
    }
}
