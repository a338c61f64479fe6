namespace AxleTelemetry.Domain.Statistics;

/// <summary>
/// Linear least squares by Householder reflections: min |A c - y|. The normal equations are never formed, so only the condition of A itself
/// costs digits, not its square.
/// </summary>
public sealed class LeastSquares
{
    /// <summary>A column that depends on the others to this part of its length counts as dependent.</summary>
    private const double Dependent = 1e-12;

    private readonly double[] _triangle;
    private readonly double[] _coefficients;
    private readonly int _columns;

    private LeastSquares(double[] triangle, double[] coefficients, double residualSumOfSquares)
    {
        (_triangle, _coefficients, _columns) = (triangle, coefficients, coefficients.Length);
        ResidualSumOfSquares = residualSumOfSquares;
    }

    /// <summary>The solution, one value per column.</summary>
    public ReadOnlySpan<double> Coefficients => _coefficients;

    /// <summary>|A c - y|2 at the solution.</summary>
    public double ResidualSumOfSquares { get; }

    /// <summary>Natural logarithm of the determinant of A'A.</summary>
    public double LogDeterminant
    {
        get
        {
            var sum = 0.0;
            for (var k = 0; k < _columns; k++) sum += 2 * Math.Log(Math.Abs(_triangle[k * _columns + k]));
            return sum;
        }
    }

    /// <summary>
    /// Solves; <paramref name="design"/> is row by row, <paramref name="columns"/> values a row, and holds finite numbers.
    /// Returns <c>null</c> when there are fewer rows than columns or a column depends on the others.
    /// </summary>
    public static LeastSquares? Solve(ReadOnlySpan<double> design, int columns, ReadOnlySpan<double> values)
    {
        if (columns < 1 || design.Length != values.Length * columns)
            throw new ArgumentException("The design needs as many rows as there are values.", nameof(design));
        if (values.Length < columns) return null;
        double[] a = design.ToArray(), y = values.ToArray();
        for (var k = 0; k < columns; k++)
        {
            var length = ColumnLength(a, columns, k, 0);
            if (!(Reflect(a, columns, k, y) > Dependent * length)) return null;
        }
        var rest = 0.0;
        for (var row = columns; row < y.Length; row++) rest += y[row] * y[row];
        return new(a[..(columns * columns)], BackSubstitute(a, columns, y), rest);
    }

    /// <summary>(A'A)^-1 between the linear forms <paramref name="left"/> and <paramref name="right"/>: left' (A'A)^-1 right.</summary>
    public double Covariance(ReadOnlySpan<double> left, ReadOnlySpan<double> right)
    {
        Span<double> u = stackalloc double[_columns], v = stackalloc double[_columns];
        ForwardSubstitute(left, u);
        ForwardSubstitute(right, v);
        var sum = 0.0;
        for (var k = 0; k < _columns; k++) sum += u[k] * v[k];
        return sum;
    }

    /// <summary>Reflects column k below its diagonal to zero, and everything to its right and the values with it. Returns the size of the new diagonal.</summary>
    private static double Reflect(double[] a, int columns, int k, double[] y)
    {
        var length = ColumnLength(a, columns, k, k);
        if (length == 0) return 0;
        var diagonal = a[k * columns + k] > 0 ? -length : length;
        a[k * columns + k] -= diagonal;
        var scale = -diagonal * a[k * columns + k];
        for (var j = k + 1; j < columns; j++) Apply(a, columns, k, a.AsSpan(j), columns, scale);
        Apply(a, columns, k, y, 1, scale);
        a[k * columns + k] = diagonal;
        return length;
    }

    private static void Apply(double[] a, int columns, int k, Span<double> target, int stride, double scale)
    {
        var rows = a.Length / columns;
        var dot = 0.0;
        for (var row = k; row < rows; row++) dot += a[row * columns + k] * target[row * stride];
        dot /= scale;
        for (var row = k; row < rows; row++) target[row * stride] -= dot * a[row * columns + k];
    }

    private static double ColumnLength(double[] a, int columns, int k, int from)
    {
        var sum = 0.0;
        for (var row = from; row < a.Length / columns; row++) sum += a[row * columns + k] * a[row * columns + k];
        return Math.Sqrt(sum);
    }

    private static double[] BackSubstitute(double[] a, int columns, double[] y)
    {
        var solution = new double[columns];
        for (var k = columns - 1; k >= 0; k--)
        {
            var sum = y[k];
            for (var j = k + 1; j < columns; j++) sum -= a[k * columns + j] * solution[j];
            solution[k] = sum / a[k * columns + k];
        }
        return solution;
    }

    private void ForwardSubstitute(ReadOnlySpan<double> form, Span<double> solution)
    {
        for (var k = 0; k < _columns; k++)
        {
            var sum = form[k];
            for (var j = 0; j < k; j++) sum -= _triangle[j * _columns + k] * solution[j];
            solution[k] = sum / _triangle[k * _columns + k];
        }
    }
}
