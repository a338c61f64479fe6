using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace AxleTelemetry.Domain.Loads;

/// <summary>
/// Arithmetic on rows of considered errors, four neighbours at a time. Always four, whatever the width of the processor's vectors, and what is left over in one
/// order: so the result is the same bits everywhere. What is said of a state comes in pairs, mass and moment of each body.
/// </summary>
internal static class Columns
{
    private const int Lanes = 4;

    /// <summary>Adds multiples of rows, which stand one behind the other, to one row; their number is even.</summary>
    /// <param name="to">Receives the sum.</param>
    /// <param name="from">What they are added to; may be the same as <paramref name="to"/>.</param>
    /// <param name="sign">1, or -1 to take them off.</param>
    /// <param name="factors">One for each row.</param>
    /// <param name="rows">The rows.</param>
    public static void AddRows(Span<double> to, ReadOnlySpan<double> from, double sign, ReadOnlySpan<double> factors, ReadOnlySpan<double> rows)
    {
        var length = to.Length;
        if (factors.IsEmpty) from.CopyTo(to);
        for (var k = 0; k + 1 < factors.Length; k += 2)
        {
            AddPair(to, from, (sign * factors[k], sign * factors[k + 1]), rows.Slice(k * length, length), rows.Slice((k + 1) * length, length));
            from = to;
        }
    }

    /// <summary>Adds a multiple of one row to another.</summary>
    public static void AddScaled(Span<double> to, double factor, ReadOnlySpan<double> row)
    {
        var wide = Wide(to);
        var added = Wide(row);
        for (var v = 0; v < wide.Length; v++) wide[v] += factor * added[v];
        for (var e = wide.Length * Lanes; e < to.Length; e++) to[e] += factor * row[e];
    }

    /// <summary>Scales each element by its own factor.</summary>
    public static void Scale(Span<double> row, ReadOnlySpan<double> factors)
    {
        var wide = Wide(row);
        var by = Wide(factors);
        for (var v = 0; v < wide.Length; v++) wide[v] *= by[v];
        for (var e = wide.Length * Lanes; e < row.Length; e++) row[e] *= factors[e];
    }

    /// <summary>Sum of products, in four running sums; none waits for another.</summary>
    public static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        var left = Wide(a);
        var right = Wide(b);
        var sums = Vector256<double>.Zero;
        for (var v = 0; v < left.Length; v++) sums += left[v] * right[v];
        var sum = sums[0];
        for (var e = left.Length * Lanes; e < a.Length; e++) sum += a[e] * b[e];
        return sum + sums[1] + (sums[2] + sums[3]);
    }

    private static void AddPair(Span<double> to, ReadOnlySpan<double> from, (double One, double Two) factors, ReadOnlySpan<double> one, ReadOnlySpan<double> two)
    {
        var wide = Wide(to);
        var before = Wide(from);
        var first = Wide(one);
        var second = Wide(two);
        for (var v = 0; v < wide.Length; v++) wide[v] = before[v] + factors.One * first[v] + factors.Two * second[v];
        for (var e = wide.Length * Lanes; e < to.Length; e++) to[e] = from[e] + factors.One * one[e] + factors.Two * two[e];
    }

    private static Span<Vector256<double>> Wide(Span<double> row) => MemoryMarshal.Cast<double, Vector256<double>>(row);

    private static ReadOnlySpan<Vector256<double>> Wide(ReadOnlySpan<double> row) => MemoryMarshal.Cast<double, Vector256<double>>(row);
}
