namespace AxleTelemetry.Domain.Statistics;

/// <summary>
/// Complementary error function by the rational approximations of W. J. Cody, Mathematics of Computation 23 (1969) 631-637.
/// Relative error at most 1e-15 up to x = 5, 2e-14 up to x = 26; below double's range it returns 0.
/// </summary>
internal static class ErrorFunction
{
    private static ReadOnlySpan<double> SmallUpper =>
        [1.85777706184603153e-1, 3.16112374387056560, 1.13864154151050156e2, 3.77485237685302021e2, 3.20937758913846947e3];

    private static ReadOnlySpan<double> SmallLower =>
        [1, 2.36012909523441209e1, 2.44024637934444173e2, 1.28261652607737228e3, 2.84423683343917062e3];

    private static ReadOnlySpan<double> MiddleUpper =>
    [
        2.15311535474403846e-8, 5.64188496988670089e-1, 8.88314979438837594, 6.61191906371416295e1, 2.98635138197400131e2,
        8.81952221241769090e2, 1.71204761263407058e3, 2.05107837782607147e3, 1.23033935479799725e3,
    ];

    private static ReadOnlySpan<double> MiddleLower =>
    [
        1, 1.57449261107098347e1, 1.17693950891312499e2, 5.37181101862009858e2, 1.62138957456669019e3,
        3.29079923573345963e3, 4.36261909014324716e3, 3.43936767414372164e3, 1.23033935480374942e3,
    ];

    private static ReadOnlySpan<double> LargeUpper =>
    [
        1.63153871373020978e-2, 3.05326634961232344e-1, 3.60344899949804439e-1, 1.25781726111229246e-1, 1.60837851487422766e-2,
        6.58749161529837803e-4,
    ];

    private static ReadOnlySpan<double> LargeLower =>
        [1, 2.56852019228982242, 1.87295284992346725, 5.27905102951428412e-1, 6.05183413124413191e-2, 2.33520497626869185e-3];

    /// <summary>1 - erf(x), without the loss of digits for large x.</summary>
    public static double Complement(double x)
    {
        var size = Math.Abs(x);
        if (size <= 0.46875) return 1 - x * Ratio(SmallUpper, SmallLower, x * x);
        var tail = size > 28 ? 0 : Scaled(size) * Exponential(size);
        return x < 0 ? 2 - tail : tail;
    }

    private static double Scaled(double size)
    {
        if (size <= 4) return Ratio(MiddleUpper, MiddleLower, size);
        var inverse = 1 / (size * size);
        return (1 / Math.Sqrt(Math.PI) - inverse * Ratio(LargeUpper, LargeLower, inverse)) / size;
    }

    /// <summary>exp(-x2), with x split so that the rounding of x2 does not enter the exponent.</summary>
    private static double Exponential(double size)
    {
        var coarse = Math.Truncate(size * 16) / 16;
        return Math.Exp(-coarse * coarse) * Math.Exp(-(size - coarse) * (size + coarse));
    }

    private static double Ratio(ReadOnlySpan<double> upper, ReadOnlySpan<double> lower, double x) =>
        Polynomial.At(upper, x) / Polynomial.At(lower, x);
}
