using System.Collections.Immutable;

namespace AxleTelemetry.Domain.Statistics;

/// <summary>What came of a plain least squares fit of a line: <see cref="FittedLine"/> or <see cref="NoLine"/>.</summary>
public abstract record LineFitOutcome
{
    private protected LineFitOutcome()
    {
    }
}

/// <summary>Why no line was fitted.</summary>
public enum NoLineReason
{
    /// <summary>The two series have different lengths.</summary>
    LengthsDiffer,

    /// <summary>A value is NaN or infinite, or beyond 1e100 in size.</summary>
    NotFinite,

    /// <summary>Fewer points than unknowns plus one: nothing is left to judge the scatter by.</summary>
    TooFewPoints,

    /// <summary>All x are equal (through the origin: all are zero), so no slope can be told.</summary>
    EqualAbscissas,
}

/// <summary>No line, with the reason.</summary>
/// <param name="Reason">What was wrong with the points.</param>
public sealed record NoLine(NoLineReason Reason) : LineFitOutcome;

/// <summary>A line y = a + b x (or y = b x) by ordinary least squares, every point with the same weight.</summary>
public sealed record FittedLine : LineFitOutcome
{
    /// <summary>Intercept a; <c>null</c> for a line through the origin.</summary>
    public required double? Intercept { get; init; }

    /// <summary>Standard error of the intercept; <c>null</c> for a line through the origin.</summary>
    public required double? InterceptError { get; init; }

    /// <summary>Slope b.</summary>
    public required double Slope { get; init; }

    /// <summary>Standard error of the slope.</summary>
    public required double SlopeError { get; init; }

    /// <summary>Residual standard deviation: root of (sum of squared residuals / degrees of freedom).</summary>
    public required double ResidualDeviation { get; init; }

    /// <summary>Points less unknowns, at least 1.</summary>
    public required int DegreesOfFreedom { get; init; }

    /// <summary>The points in the order given.</summary>
    public required ImmutableArray<LinePoint> Points { get; init; }

    /// <summary>
    /// Size that an externally studentised residual must exceed to count as an outlier when all points are tested at once: Student's t at
    /// 1 - <paramref name="familyError"/> / (2 n), Bonferroni's bound. Infinite where a single degree of freedom leaves nothing to test with.
    /// </summary>
    public double OutlierBound(double familyError = 0.05) => DegreesOfFreedom < 2
        ? double.PositiveInfinity
        : StudentT.Quantile(1 - familyError / (2 * Points.Length), DegreesOfFreedom - 1);
}

/// <summary>One point of a fitted line.</summary>
/// <param name="Residual">y less the line, in the unit of y.</param>
/// <param name="Leverage">Part of its own fitted value that the point decides, 0 to 1.</param>
/// <param name="Studentised">
/// Residual over its standard deviation, the latter estimated from the other points. <c>null</c> where it has no value: the point stands alone
/// (leverage 1), no degree of freedom is left without it, or the other points lie exactly on a line.
/// </param>
public readonly record struct LinePoint(double Residual, double Leverage, double? Studentised);

/// <summary>Plain least squares of a line, by Householder reflections (<see cref="LeastSquares"/>).</summary>
public static class LineFit
{
    /// <summary>Fits y = a + b x. Never throws for bad numbers: the outcome names what was wrong.</summary>
    public static LineFitOutcome WithIntercept(ReadOnlySpan<double> x, ReadOnlySpan<double> y) => Fit(x, y, 2);

    /// <summary>Fits y = b x. Never throws for bad numbers: the outcome names what was wrong.</summary>
    public static LineFitOutcome ThroughOrigin(ReadOnlySpan<double> x, ReadOnlySpan<double> y) => Fit(x, y, 1);

    private static LineFitOutcome Fit(ReadOnlySpan<double> x, ReadOnlySpan<double> y, int columns)
    {
        if (x.Length != y.Length) return new NoLine(NoLineReason.LengthsDiffer);
        if (!Usable(x) || !Usable(y)) return new NoLine(NoLineReason.NotFinite);
        if (x.Length <= columns) return new NoLine(NoLineReason.TooFewPoints);
        var design = new double[x.Length * columns];
        for (var i = 0; i < x.Length; i++) Row(x[i], design.AsSpan(i * columns, columns));
        var solved = LeastSquares.Solve(design, columns, y);
        return solved is null ? new NoLine(NoLineReason.EqualAbscissas) : Describe(solved, design, y, columns);
    }

    /// <summary>Beyond 1e100 squares would leave double's range; NaN fails the comparison too.</summary>
    private static bool Usable(ReadOnlySpan<double> values)
    {
        foreach (var value in values)
            if (!(Math.Abs(value) <= 1e100)) return false;
        return true;
    }

    /// <summary>Slope in the first column, so that it stands alone when there is no intercept.</summary>
    private static void Row(double x, Span<double> row)
    {
        row[0] = x;
        if (row.Length > 1) row[1] = 1;
    }

    private static FittedLine Describe(LeastSquares solved, double[] design, ReadOnlySpan<double> y, int columns)
    {
        var freedom = y.Length - columns;
        var deviation = Math.Sqrt(solved.ResidualSumOfSquares / freedom);
        var points = ImmutableArray.CreateBuilder<LinePoint>(y.Length);
        for (var i = 0; i < y.Length; i++)
            points.Add(Point(solved, design.AsSpan(i * columns, columns), y[i], (deviation, freedom)));
        return new()
        {
            Slope = solved.Coefficients[0],
            SlopeError = deviation * Math.Sqrt(Unscaled(solved, columns, 0)),
            Intercept = columns > 1 ? solved.Coefficients[1] : null,
            InterceptError = columns > 1 ? deviation * Math.Sqrt(Unscaled(solved, columns, 1)) : null,
            ResidualDeviation = deviation,
            DegreesOfFreedom = freedom,
            Points = points.MoveToImmutable(),
        };
    }

    private static double Unscaled(LeastSquares solved, int columns, int index)
    {
        Span<double> unit = stackalloc double[columns];
        unit[index] = 1;
        return solved.Covariance(unit, unit);
    }

    private static LinePoint Point(LeastSquares solved, ReadOnlySpan<double> row, double y, (double Deviation, int Freedom) scatter)
    {
        var fitted = 0.0;
        for (var k = 0; k < row.Length; k++) fitted += row[k] * solved.Coefficients[k];
        double residual = y - fitted, leverage = Math.Min(1, solved.Covariance(row, row)), room = 1 - leverage;
        if (scatter.Freedom < 2 || room < 1e-10 || !(scatter.Deviation > 1e-12 * Math.Abs(y))) return new(residual, leverage, null);
        var inner = residual / (scatter.Deviation * Math.Sqrt(room));
        var left = scatter.Freedom - inner * inner;
        return new(residual, leverage, left > 1e-10 * scatter.Freedom ? inner * Math.Sqrt((scatter.Freedom - 1) / left) : null);
    }
}
