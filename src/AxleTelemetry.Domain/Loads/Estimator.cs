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
        var variance = reading.NoiseVariance + Quadratic(row, estimate.Covariance) + LessState(effect, row, estimate.Sensitivity);
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
    public Estimated Evaluate(PayloadEstimate estimate, KnownErrors known, LinearForm form, ReadOnlySpan<double> state) =>
        Weigh(estimate, known, form, state).Less(form, state, 0);

    /// <summary>What is the same of a sum whatever limit is taken off it.</summary>
    internal FormWeight Weigh(PayloadEstimate estimate, KnownErrors known, LinearForm form, ReadOnlySpan<double> state) =>
        new Weighing(estimate, known, _shares, state, stackalloc double[estimate.Errors]).Weigh(form);

    /// <summary>The same of each sum of a set.</summary>
    internal void Weigh(PayloadEstimate estimate, KnownErrors known, FormSet forms, Span<FormWeight> weights)
    {
        var weighing = new Weighing(estimate, known, _shares, estimate.State, stackalloc double[estimate.Errors]);
        for (var form = 0; form < weights.Length; form++) weights[form] = weighing.Weigh(forms.Form(form));
    }

    /// <summary>The mean alone of a sum from which something is taken off.</summary>
    internal static double Mean(KnownErrors known, LinearForm form, ReadOnlySpan<double> state, double off)
    {
        Span<double> slopes = stackalloc double[form.Errors];
        form.Slopes(state, slopes);
        return LoadMap.Value(form.Level, state, off) + Columns.Dot(known.Deviation[..slopes.Length], slopes);
    }

    /// <summary>Variance that each considered error brings into a form, kg2; the last entry receives that of noise and place.</summary>
    public void Sources(PayloadEstimate estimate, KnownErrors known, LinearForm form, Span<double> variances)
    {
        Span<double> effect = stackalloc double[estimate.Errors];
        new Weighing(estimate, known, _shares, estimate.State, effect).Weigh(form);
        for (var e = 0; e < estimate.Errors; e++) variances[e] = effect[e] * effect[e];

        variances[estimate.Errors] = Quadratic(form.Level[..estimate.States], estimate.Covariance);
    }

    /// <summary>Takes what the state's own errors already bring off the slopes: what is left is the error of the form, sign turned. Returns its variance.</summary>
    private static double LessState(Span<double> effect, ReadOnlySpan<double> row, ReadOnlySpan<double> sensitivity)
    {
        Columns.AddRows(effect, effect, -1, row, sensitivity);
        return Columns.Dot(effect, effect);
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
            Columns.AddScaled(estimate.ErrorInformation.Slice(i * m, m), weight * row[i], effect);
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
            var row = estimate.Covariance.Slice(i * n, n);
            estimate.State[i] = Dot(row, estimate.InformationVector);
            var moved = estimate.Sensitivity.Slice(i * m, m);
            moved.Clear();
            Columns.AddRows(moved, moved, 1, row, estimate.ErrorInformation);
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
        for (var i = 0; i < row.Length; i++)
        {
            var moved = 0.0;
            for (var k = 0; k < row.Length; k++) moved += covariance[i * row.Length + k] * row[k];
            sum += row[i] * moved;
        }

        return sum;
    }

    /// <summary>Forms weighed at one state: what is asked of estimate and known errors is looked up once for all of them.</summary>
    private readonly ref struct Weighing
    {
        private readonly KnownErrors _known;
        private readonly ShareErrors _shares;
        private readonly bool _measured;
        private readonly ReadOnlySpan<double> _state;
        private readonly ReadOnlySpan<double> _covariance;
        private readonly ReadOnlySpan<double> _sensitivity;
        private readonly ReadOnlySpan<double> _deviation;
        private readonly ReadOnlySpan<double> _remaining;
        private readonly Span<double> _effect;

        /// <param name="estimate">What is believed of the payload.</param>
        /// <param name="known">What has become known of considered errors.</param>
        /// <param name="shares">Where measured shares act.</param>
        /// <param name="state">The payload state.</param>
        /// <param name="effect">Room for one number per considered error; holds what each brings into the form weighed last, sign turned.</param>
        public Weighing(PayloadEstimate estimate, KnownErrors known, ShareErrors shares, ReadOnlySpan<double> state, Span<double> effect)
        {
            (_known, _shares, _measured) = (known, shares, shares.AnyMeasured(known));
            _state = state;
            _covariance = estimate.Covariance;
            _sensitivity = estimate.Sensitivity;
            _deviation = known.Deviation;
            _remaining = known.Remaining;
            _effect = effect;
        }

        public FormWeight Weigh(LinearForm form)
        {
            var slopes = _effect[..form.Errors];
            _effect[form.Errors..].Clear();
            form.Slopes(_state, slopes);
            var added = Columns.Dot(_deviation[..slopes.Length], slopes);
            // Measured shares first: they need the whole slope.
            if (_measured) _shares.SpreadMeasured(_known, slopes, _effect);
            Columns.Scale(slopes, _remaining);
            var row = form.Level[.._state.Length];
            var errors = LessState(_effect, row, _sensitivity);
            return new FormWeight(added, Math.Sqrt(Quadratic(row, _covariance) + errors));
        }
    }
}
