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

    private const int MostPasses = 25;
    private readonly ImmutableArray<BodyPart> _carrying;
    private readonly ShareErrors _shares;
    private readonly CircuitRows _rows;

    /// <summary>Prepares an estimator for a combination whose circuits are calibrated as given, one per sensor.</summary>
    public Estimator(LoadModel model, ImmutableArray<Circuit> circuits)
    {
        Model = model;
        Circuits = circuits;
        _carrying = [.. model.Combination.Bodies.Where(b => b.StateIndex >= 0)];
        _shares = new ShareErrors(model.Budget);
        _rows = new CircuitRows(model, circuits, _shares);
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
        var expected = _rows.Derive(estimate, known, map, motion, reading, row, effect);
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
        _shares.SpreadMeasured(known, slopes, effect);
        var remaining = known.Remaining;
        for (var e = 0; e < slopes.Length; e++) slopes[e] *= remaining[e];
        return mean;
    }

    private void Gather(PayloadEstimate estimate, KnownErrors known, LoadMap map, in Motion motion, in CircuitReading reading)
    {
        Span<double> row = stackalloc double[estimate.States];
        Span<double> effect = stackalloc double[estimate.Errors];
        var expected = _rows.Derive(estimate, known, map, motion, reading, row, effect);
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
                moved = Math.Max(moved, Math.Abs(mass - masses[b]) / Math.Max(Math.Abs(mass), PayloadPlace.LeastMass));
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
                PayloadPlace.Add(estimate.Covariance, n, _carrying[b], masses[b], spreads[b]);
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

    internal static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
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
