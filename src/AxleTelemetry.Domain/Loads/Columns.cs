using System.Numerics;
using System.Runtime.InteropServices;

namespace AxleTelemetry.Domain.Loads;

/// <summary>
/// Arithmetic on rows of considered errors, several neighbours at a time. Each element has its own sum, in one order
/// whatever the width of the processor's vectors, so the result is the same bits everywhere.
/// </summary>
internal static class Columns
{
    /// <summary>Adds a multiple of one row to another.</summary>
    public static void AddScaled(Span<double> to, double factor, ReadOnlySpan<double> row)
    {
        var wide = MemoryMarshal.Cast<double, Vector<double>>(to);
        var from = MemoryMarshal.Cast<double, Vector<double>>(row);
        var many = new Vector<double>(factor);
        for (var v = 0; v < wide.Length; v++) wide[v] += many * from[v];
        for (var e = wide.Length * Vector<double>.Count; e < to.Length; e++) to[e] += factor * row[e];
    }

    /// <summary>Sum of products, in four running sums: always four, so that the order is the same on every processor, and none waits for another.</summary>
    public static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        double s0 = 0, s1 = 0, s2 = 0, s3 = 0;
        var e = 0;
        for (; e <= a.Length - 4; e += 4)
        {
            s0 += a[e] * b[e];
            s1 += a[e + 1] * b[e + 1];
            s2 += a[e + 2] * b[e + 2];
            s3 += a[e + 3] * b[e + 3];
        }

        for (; e < a.Length; e++) s0 += a[e] * b[e];
        return s0 + s1 + (s2 + s3);
    }
}
