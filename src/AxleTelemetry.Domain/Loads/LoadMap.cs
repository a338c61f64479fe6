using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Loads;

/// <summary>
/// The one fact the engine is built on: in one configuration, every axle and coupling load is an affine function of the
/// payload state z = (mass, moment) of each body that carries, R = H z + r. Rows are axles, then couplings.
/// </summary>
public sealed class LoadMap
{
    // Typical payload steps, so that differences are taken between numbers of one size: 10 t, and 10 t over 4 m.
    private const double MassStep = 10_000, MomentStep = 40_000;

    // Laws whose limits weigh other axles are few; beyond these all are made anew.
    private const int MostForms = 64;

    private readonly double[] _level;
    private readonly double[] _perSlope;
    private readonly double[] _perSpeedSquared;
    private readonly double[] _rolling;

    // Row by row, coefficient by coefficient, all errors side by side: the slopes of a row are one pass over neighbours.
    private readonly double[] _sensitivity;
    private readonly KeptRow<FormSet> _forms = new(MostForms);

    private LoadMap(Configuration configuration, int rows, int state, int errors)
    {
        Configuration = configuration;
        Rows = rows;
        Width = state + 1;
        _level = new double[rows * Width];
        _perSlope = new double[rows * Width];
        _perSpeedSquared = new double[rows * Width];
        _rolling = new double[rows * Width];
        _sensitivity = new double[errors * rows * Width];
        Errors = errors;
    }

    /// <summary>The configuration it holds for.</summary>
    public Configuration Configuration { get; }

    /// <summary>Number of rows: axles, then couplings.</summary>
    public int Rows { get; }

    /// <summary>Coefficients of a row: one per state, then the constant.</summary>
    public int Width { get; }

    /// <summary>Considered errors that act on the loads themselves (those of the vehicles, not those of sensors).</summary>
    public int Errors { get; }

    /// <summary>Coefficients of a row standing on the level: H, then r. What is judged.</summary>
    public ReadOnlySpan<double> Level(int row) => _level.AsSpan(row * Width, Width);

    /// <summary>Change of one coefficient of a level row per standard deviation of each considered error.</summary>
    public ReadOnlySpan<double> Sensitivity(int row, int coefficient) => _sensitivity.AsSpan((row * Width + coefficient) * Errors, Errors);

    /// <summary>Change of a row's load per standard deviation of each considered error, at a payload state.</summary>
    public void Slopes(int row, ReadOnlySpan<double> state, Span<double> slopes) =>
        Columns.AddRows(slopes, Sensitivity(row, state.Length), 1, state, _sensitivity.AsSpan(row * Width * Errors, Width * Errors));

    /// <summary>Load of a row for a payload state, kg, on the level.</summary>
    public double Load(int row, ReadOnlySpan<double> state) => Value(Level(row), state);

    /// <summary>The same with what has become known of the vehicles, such as a measured split: the mean that is judged.</summary>
    public double Load(int row, ReadOnlySpan<double> state, KnownErrors known)
    {
        var load = Load(row, state);
        ReadOnlySpan<double> deviation = known.Deviation;
        for (var e = 0; e < Errors; e++)
            if (deviation[e] != 0)
                load += deviation[e] * Slope(e, row, state);
        return load;
    }

    /// <summary>The forms of several sums of rows; made when first asked for, and kept.</summary>
    internal FormSet Forms(ImmutableArray<FormWanted> wanted)
    {
        foreach (var kept in _forms.All)
            if (kept.Holds(wanted))
                return kept;
        return _forms.Keep(new FormSet(this, wanted), static (a, b) => a.Holds(b.Wanted));
    }

    /// <summary>The form of one row: a look at what is here, without numbers of its own.</summary>
    internal LinearForm Form(int row) => new((_level, row * Width), (_sensitivity, row * Width * Errors), Width, Errors);

    /// <summary>
    /// Coefficients of a row as measured in motion. Exact while rolling; standing, what slope does is off by about 0.1 %
    /// of it, since slope is derived with the trailers' rolling resistance pulling.
    /// </summary>
    public void Measured(int row, in Motion motion, Span<double> coefficients)
    {
        var from = row * Width;
        var rolling = motion.Rolling ? 1.0 : 0.0;
        for (var k = 0; k < Width; k++)
            coefficients[k] = _level[from + k] + motion.Slope * _perSlope[from + k]
                + motion.SpeedSquared * _perSpeedSquared[from + k] + rolling * _rolling[from + k];
    }

    /// <summary>Change of a row per unit of slope, and per m2/s2 of squared speed, at a payload state.</summary>
    public (double PerSlope, double PerSpeedSquared) Feels(int row, ReadOnlySpan<double> state) =>
        (Value(_perSlope.AsSpan(row * Width, Width), state), Value(_perSpeedSquared.AsSpan(row * Width, Width), state));

    /// <summary>Applies affine coefficients to a state.</summary>
    public static double Value(ReadOnlySpan<double> coefficients, ReadOnlySpan<double> state) => Value(coefficients, state, 0);

    /// <summary>The same with something taken off the constant first.</summary>
    public static double Value(ReadOnlySpan<double> coefficients, ReadOnlySpan<double> state, double off)
    {
        var sum = coefficients[^1] - off;
        for (var k = 0; k < coefficients.Length - 1; k++) sum += coefficients[k] * state[k];
        return sum;
    }

    /// <summary>Derives the map from the statics; <c>null</c> where the configuration leaves a support without a loaded axle.</summary>
    internal static LoadMap? Derive(Combination combination, ErrorBudget budget, Configuration configuration)
    {
        var equilibrium = new Equilibrium(combination, budget);
        var map = new LoadMap(configuration, combination.Rows, combination.StateSize, budget.FirstSensorColumn);
        if (!Probe(equilibrium, configuration, [], default, map._level, map)) return null;

        var rolling = new Motion(0, 0, true);
        Probe(equilibrium, configuration, [], rolling, map._rolling, map);
        Probe(equilibrium, configuration, [], new Motion(1, 0, true), map._perSlope, map);
        Probe(equilibrium, configuration, [], new Motion(0, 1, true), map._perSpeedSquared, map);
        for (var k = 0; k < map._level.Length; k++)
        {
            map._perSlope[k] -= map._rolling[k];
            map._perSpeedSquared[k] -= map._rolling[k];
            map._rolling[k] -= map._level[k];
        }

        map.DeriveSensitivity(equilibrium);
        return map;
    }

    /// <summary>
    /// Secant over plus and minus one standard deviation: exact where an error enters linearly, and for shares and
    /// positions the slope that a normal error of that size really sees.
    /// </summary>
    private void DeriveSensitivity(Equilibrium equilibrium)
    {
        var deviations = new double[Errors];
        var plus = new double[_level.Length];
        var minus = new double[_level.Length];
        for (var e = 0; e < Errors; e++)
        {
            deviations[e] = 1;
            Probe(equilibrium, Configuration, deviations, default, plus, this);
            deviations[e] = -1;
            Probe(equilibrium, Configuration, deviations, default, minus, this);
            deviations[e] = 0;
            for (var k = 0; k < _level.Length; k++)
                _sensitivity[k * Errors + e] = (plus[k] - minus[k]) / 2;
        }
    }

    private double Slope(int error, int row, ReadOnlySpan<double> state)
    {
        var from = row * Width * Errors + error;
        var sum = _sensitivity[from + state.Length * Errors];
        for (var k = 0; k < state.Length; k++) sum += _sensitivity[from + k * Errors] * state[k];
        return sum;
    }

    private static bool Probe(Equilibrium equilibrium, Configuration configuration, ReadOnlySpan<double> deviations, Motion motion, double[] into, LoadMap map)
    {
        int states = map.Width - 1;
        Span<double> state = stackalloc double[states];
        Span<double> empty = stackalloc double[map.Rows];
        Span<double> loads = stackalloc double[map.Rows];
        state.Clear();
        empty.Clear();
        if (!equilibrium.Solve(configuration, deviations, motion, state, empty)) return false;
        for (var row = 0; row < map.Rows; row++) into[row * map.Width + states] = empty[row];
        for (var k = 0; k < states; k++)
        {
            var step = k % 2 == 0 ? MassStep : MomentStep;
            state.Clear();
            loads.Clear();
            state[k] = step;
            equilibrium.Solve(configuration, deviations, motion, state, loads);
            for (var row = 0; row < map.Rows; row++) into[row * map.Width + k] = (loads[row] - empty[row]) / step;
        }

        return true;
    }
}
