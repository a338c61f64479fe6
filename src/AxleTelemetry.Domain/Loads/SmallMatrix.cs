namespace AxleTelemetry.Domain.Loads;

/// <summary>Cholesky arithmetic on symmetric positive definite matrices of a few rows, in caller-owned memory, row by row.</summary>
internal static class SmallMatrix
{
    /// <summary>Inverts in place. False where the matrix is not positive definite; its content is then undefined.</summary>
    public static bool Invert(Span<double> matrix, int n)
    {
        Span<double> factor = stackalloc double[n * n];
        if (!Factor(matrix, n, factor)) return false;
        Span<double> column = stackalloc double[n];
        for (var c = 0; c < n; c++)
        {
            column.Clear();
            column[c] = 1;
            Substitute(factor, n, column);
            for (var r = 0; r < n; r++) matrix[r * n + c] = column[r];
        }

        for (var r = 0; r < n; r++)
            for (var c = 0; c < r; c++)
                matrix[r * n + c] = matrix[c * n + r] = (matrix[r * n + c] + matrix[c * n + r]) / 2;
        return true;
    }

    private static bool Factor(ReadOnlySpan<double> matrix, int n, Span<double> factor)
    {
        factor.Clear();
        for (var r = 0; r < n; r++)
        {
            for (var c = 0; c <= r; c++)
            {
                var sum = matrix[r * n + c];
                for (var k = 0; k < c; k++) sum -= factor[r * n + k] * factor[c * n + k];
                if (r == c)
                {
                    if (!(sum > 0)) return false;
                    factor[r * n + r] = Math.Sqrt(sum);
                }
                else
                {
                    factor[r * n + c] = sum / factor[c * n + c];
                }
            }
        }

        return true;
    }

    private static void Substitute(ReadOnlySpan<double> factor, int n, Span<double> vector)
    {
        for (var r = 0; r < n; r++)
        {
            for (var k = 0; k < r; k++) vector[r] -= factor[r * n + k] * vector[k];
            vector[r] /= factor[r * n + r];
        }

        for (var r = n - 1; r >= 0; r--)
        {
            for (var k = r + 1; k < n; k++) vector[r] -= factor[k * n + r] * vector[k];
            vector[r] /= factor[r * n + r];
        }
    }
}
