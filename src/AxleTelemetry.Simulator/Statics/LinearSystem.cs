namespace AxleTelemetry.Simulator.Statics;

/// <summary>A square system of linear equations, solved by elimination with partial pivoting.</summary>
internal sealed class LinearSystem(int size)
{
    // A pivot this small beside the greatest number of the system is a zero that rounding left.
    private const double Singular = 1e-13;

    private readonly double[,] _a = new double[size, size];
    private readonly double[] _b = new double[size];

    /// <summary>Coefficient of an unknown in an equation.</summary>
    public ref double this[int equation, int unknown] => ref _a[equation, unknown];

    /// <summary>Right-hand side of an equation.</summary>
    public ref double Right(int equation) => ref _b[equation];

    /// <summary>The solution, or <c>null</c> where there is not exactly one.</summary>
    public double[]? Solve()
    {
        var right = new double[size, 1];
        for (var i = 0; i < size; i++) right[i, 0] = _b[i];
        return Eliminate((double[,])_a.Clone(), right) is { } x ? [.. Enumerable.Range(0, size).Select(i => x[i, 0])] : null;
    }

    /// <summary>Condition number in the 1-norm; infinite where the system is singular.</summary>
    public double Condition()
    {
        var unit = new double[size, size];
        for (var i = 0; i < size; i++) unit[i, i] = 1;
        return Eliminate((double[,])_a.Clone(), unit) is { } inverse ? Norm(_a) * Norm(inverse) : double.PositiveInfinity;
    }

    private static double Norm(double[,] m)
    {
        double greatest = 0;
        for (var column = 0; column < m.GetLength(1); column++)
        {
            double sum = 0;
            for (var row = 0; row < m.GetLength(0); row++) sum += Math.Abs(m[row, column]);
            greatest = Math.Max(greatest, sum);
        }

        return greatest;
    }

    private static double[,]? Eliminate(double[,] a, double[,] right)
    {
        int n = a.GetLength(0), columns = right.GetLength(1);
        var scale = a.Cast<double>().Max(Math.Abs);
        for (var step = 0; step < n; step++)
        {
            var pivot = step;
            for (var row = step + 1; row < n; row++)
                if (Math.Abs(a[row, step]) > Math.Abs(a[pivot, step]))
                    pivot = row;
            if (Math.Abs(a[pivot, step]) <= Singular * scale) return null;
            Swap(a, step, pivot);
            Swap(right, step, pivot);
            for (var row = step + 1; row < n; row++)
            {
                var factor = a[row, step] / a[step, step];
                if (factor == 0) continue;
                for (var k = step; k < n; k++) a[row, k] -= factor * a[step, k];
                for (var k = 0; k < columns; k++) right[row, k] -= factor * right[step, k];
            }
        }

        for (var row = n - 1; row >= 0; row--)
            for (var k = 0; k < columns; k++)
            {
                for (var j = row + 1; j < n; j++) right[row, k] -= a[row, j] * right[j, k];
                right[row, k] /= a[row, row];
            }

        return right;
    }

    private static void Swap(double[,] m, int row, int other)
    {
        if (row == other) return;
        for (var k = 0; k < m.GetLength(1); k++) (m[row, k], m[other, k]) = (m[other, k], m[row, k]);
    }
}
