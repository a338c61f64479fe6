using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Loads;

/// <summary>
/// A weighted sum of load rows in one configuration: an axle, a group, a gross, what a limit weighs. Affine in the payload state,
/// and its change per considered error as well. Derived once per configuration; evaluating it allocates nothing.
/// </summary>
public sealed class LinearForm
{
    private readonly double[] _level;
    private readonly double[] _sensitivity;
    private readonly int _levelFrom;
    private readonly int _sensitivityFrom;

    /// <summary>Derives the form.</summary>
    /// <param name="map">Configuration in which it holds.</param>
    /// <param name="weights">Weight per row of the map; shorter is padded with zero.</param>
    public LinearForm(LoadMap map, ImmutableArray<double> weights)
    {
        Width = map.Width;
        Errors = map.Errors;
        _level = LevelOf(map, weights);
        // Coefficient by coefficient, all errors side by side: the slopes are then one pass over neighbours.
        _sensitivity = new double[Width * Errors];
        for (var row = 0; row < weights.Length; row++)
        {
            if (weights[row] == 0) continue;
            for (var k = 0; k < Width; k++) Add(_sensitivity.AsSpan(k * Errors, Errors), weights[row], map.Sensitivity(row, k));
        }
    }

    /// <summary>A form whose numbers stand among those of its map.</summary>
    internal LinearForm((double[] Of, int From) level, (double[] Of, int From) sensitivity, int width, int errors) =>
        (_level, _levelFrom, _sensitivity, _sensitivityFrom, Width, Errors) = (level.Of, level.From, sensitivity.Of, sensitivity.From, width, errors);

    /// <summary>One coefficient per state, then the constant.</summary>
    public int Width { get; }

    /// <summary>Considered errors of the vehicles, which act on the load itself.</summary>
    public int Errors { get; }

    private ReadOnlySpan<double> Sensitivity => _sensitivity.AsSpan(_sensitivityFrom, Width * Errors);

    /// <summary>By how much this is more than another form of the same vehicles, be it of another configuration: what is wrong in both alike falls out.</summary>
    public LinearForm Less(LinearForm other) =>
        new((Difference(Level, other.Level), 0), (Difference(Sensitivity, other.Sensitivity), 0), Width, Errors);

    /// <summary>Coefficients on the state, then the constant.</summary>
    public ReadOnlySpan<double> Level => _level.AsSpan(_levelFrom, Width);

    /// <summary>Change of the form per standard deviation of each error, at a payload state.</summary>
    public void Slopes(ReadOnlySpan<double> state, Span<double> slopes) => 
        Columns.AddRows(slopes[..Errors], _sensitivity.AsSpan(_sensitivityFrom + state.Length * Errors, Errors), 1, state, Sensitivity);

    /// <summary>One axle's load.</summary>
    public static LinearForm OfAxle(LoadMap map, int axle) => map.Form(axle);

    /// <summary>Sum of all axle loads of a combination.</summary>
    public static LinearForm OfGross(LoadMap map, Combination combination) => new(map, AllAxles(combination));

    /// <summary>The weights of that sum.</summary>
    internal static ImmutableArray<double> AllAxles(Combination combination) => [.. Enumerable.Repeat(1.0, combination.Axles.Length)];

    /// <summary>Coefficients of a weighted sum of rows.</summary>
    internal static double[] LevelOf(LoadMap map, ImmutableArray<double> weights)
    {
        var level = new double[map.Width];
        for (var row = 0; row < weights.Length; row++)
            if (weights[row] != 0)
                Add(level, weights[row], map.Level(row));
        return level;
    }

    private static void Add(Span<double> to, double weight, ReadOnlySpan<double> row)
    {
        for (var i = 0; i < to.Length; i++) to[i] += weight * row[i];
    }

    private static double[] Difference(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        var difference = new double[a.Length];
        for (var i = 0; i < difference.Length; i++) difference[i] = a[i] - b[i];
        return difference;
    }
}
