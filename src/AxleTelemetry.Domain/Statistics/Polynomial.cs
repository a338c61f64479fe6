namespace AxleTelemetry.Domain.Statistics;

/// <summary>A polynomial given by its coefficients, highest power first.</summary>
internal static class Polynomial
{
    public static double At(ReadOnlySpan<double> coefficients, double x)
    {
        var sum = 0.0;
        foreach (var coefficient in coefficients) sum = sum * x + coefficient;
        return sum;
    }
}
