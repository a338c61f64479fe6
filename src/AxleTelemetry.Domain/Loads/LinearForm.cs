using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Loads;

/// <summary>
/// A weighted sum of load rows in one configuration: an axle, a group, a gross, a margin. Affine in the payload state,
/// and its change per considered error as well. Derived once per configuration; evaluating it allocates nothing.
/// </summary>
public sealed class LinearForm
{
    private readonly double[] _level;
    private readonly double[] _sensitivity;

    /// <summary>Derives the form.</summary>
    /// <param name="map">Configuration in which it holds.</param>
    /// <param name="weights">Weight per row of the map; shorter is padded with zero.</param>
    /// <param name="constant">Taken off, kg.</param>
    public LinearForm(LoadMap map, ImmutableArray<double> weights, double constant)
    {
        Width = map.Width;
        _level = new double[Width];
        Errors = map.Errors;
        // Coefficient by coefficient, all errors side by side: the slopes are then one pass over neighbours.
        _sensitivity = new double[Width * Errors];
        for (var row = 0; row < weights.Length; row++)
        {
            if (weights[row] == 0) continue;
            for (var k = 0; k < Width; k++) _level[k] += weights[row] * map.Level(row)[k];
            for (var e = 0; e < map.Errors; e++)
                for (var k = 0; k < Width; k++)
                    _sensitivity[k * Errors + e] += weights[row] * map.Sensitivity(e, row)[k];
        }

        _level[^1] -= constant;
    }

    /// <summary>One coefficient per state, then the constant.</summary>
    public int Width { get; }

    /// <summary>Considered errors of the vehicles, which act on the load itself.</summary>
    public int Errors { get; }

    private LinearForm(double[] level, double[] sensitivity, int errors) => (Width, Errors, _level, _sensitivity) = (level.Length, errors, level, sensitivity);

    /// <summary>By how much this is more than another form of the same vehicles, be it of another configuration: what is wrong in both alike falls out.</summary>
    public LinearForm Less(LinearForm other) =>
        new([.. _level.Zip(other._level, (a, b) => a - b)], [.. _sensitivity.Zip(other._sensitivity, (a, b) => a - b)], Errors);

    /// <summary>Coefficients on the state, then the constant.</summary>
    public ReadOnlySpan<double> Level => _level;

    /// <summary>Change of the form per standard deviation of each error, at a payload state.</summary>
    public void Slopes(ReadOnlySpan<double> state, Span<double> slopes)
    {
        _sensitivity.AsSpan((Width - 1) * Errors, Errors).CopyTo(slopes);
        for (var k = 0; k < Width - 1; k++) Columns.AddScaled(slopes[..Errors], state[k], _sensitivity.AsSpan(k * Errors, Errors));
    }

    /// <summary>One axle's load.</summary>
    public static LinearForm OfAxle(LoadMap map, int axle)
    {
        var weights = ImmutableArray.CreateBuilder<double>(axle + 1);
        for (var i = 0; i <= axle; i++) weights.Add(i == axle ? 1 : 0);
        return new LinearForm(map, weights.MoveToImmutable(), 0);
    }

    /// <summary>Sum of all axle loads of a combination.</summary>
    public static LinearForm OfGross(LoadMap map, Combination combination) =>
        new(map, [.. Enumerable.Repeat(1.0, combination.Axles.Length)], 0);
}
