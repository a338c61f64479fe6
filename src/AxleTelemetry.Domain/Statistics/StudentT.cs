namespace AxleTelemetry.Domain.Statistics;

/// <summary>Student's t distribution, for any real number of degrees of freedom.</summary>
public static class StudentT
{
    /// <summary>From here on the normal distribution differs by less than 1e-8.</summary>
    private const double PracticallyNormal = 1e8;

    /// <summary>
    /// Probability of a value below <paramref name="t"/>. Relative error of the smaller tail at most 1e-12 up to 10 000 degrees of freedom.
    /// Throws <see cref="ArgumentOutOfRangeException"/> for NaN or degrees of freedom that are not greater than zero.
    /// </summary>
    public static double Cdf(double t, double degreesOfFreedom)
    {
        Check(degreesOfFreedom);
        if (double.IsNaN(t)) throw new ArgumentOutOfRangeException(nameof(t), t, "A number is needed.");
        if (degreesOfFreedom >= PracticallyNormal || double.IsInfinity(t)) return Normal.Cdf(t);
        var tail = Tail(Math.Abs(t), degreesOfFreedom);
        return t < 0 ? tail : 1 - tail;
    }

    /// <summary>
    /// The value that is not exceeded with <paramref name="probability"/>: Newton's steps on the tail, kept inside a bracket.
    /// Relative error at most 1e-11 for probabilities from 1e-12 to 1 - 1e-12. 0 and 1 give minus and plus infinity.
    /// Throws <see cref="ArgumentOutOfRangeException"/> outside 0 to 1 or for degrees of freedom that are not greater than zero.
    /// </summary>
    public static double Quantile(double probability, double degreesOfFreedom)
    {
        Check(degreesOfFreedom);
        var normal = Normal.Quantile(probability);
        if (normal == 0 || double.IsInfinity(normal) || degreesOfFreedom >= PracticallyNormal) return normal;
        return Math.CopySign(Invert(Math.Min(probability, 1 - probability), degreesOfFreedom), normal);
    }

    private static void Check(double degreesOfFreedom)
    {
        if (!(degreesOfFreedom > 0))
            throw new ArgumentOutOfRangeException(nameof(degreesOfFreedom), degreesOfFreedom, "More than zero degrees of freedom are needed.");
    }

    private static double Invert(double tail, double nu)
    {
        double low = 0, high = 1;
        while (Tail(high, nu) > tail) (low, high) = (high, high * 2);
        var t = 0.5 * (low + high);
        for (var step = 0; step < 200; step++)
        {
            var excess = Tail(t, nu) - tail;
            if (excess > 0) low = t;
            else high = t;
            var next = t + excess / Density(t, nu);
            if (!(next > low && next < high)) next = 0.5 * (low + high);
            if (Math.Abs(next - t) <= 1e-15 * t) return next;
            t = next;
        }
        return t;
    }

    private static double Density(double t, double nu) =>
        GammaRatio(nu / 2) / Math.Sqrt(nu * Math.PI) * Math.Exp(-(nu + 1) / 2 * LogOnePlus(t * t / nu));

    /// <summary>Probability above t &gt;= 0: half of the incomplete beta function at nu / (nu + t2) with a = nu / 2, b = 1 / 2.</summary>
    private static double Tail(double t, double nu)
    {
        double a = nu / 2, square = t * t, x = nu / (nu + square), rest = square / (nu + square);
        var front = GammaRatio(a) / Math.Sqrt(Math.PI) * Math.Exp(-a * LogOnePlus(square / nu)) * Math.Sqrt(rest);
        return x < (a + 1) / (a + 2.5)
            ? 0.5 * front * ContinuedFraction(x, a, 0.5) / a
            : 0.5 - front * ContinuedFraction(rest, 0.5, a);
    }

    /// <summary>ln(1 + x) without the rounding of 1 + x (Kahan's correction).</summary>
    private static double LogOnePlus(double x)
    {
        var sum = 1 + x;
        return sum == 1 ? x : Math.Log(sum) * (x / (sum - 1));
    }

    /// <summary>Gamma(a + 1/2) / Gamma(a): asymptotic series beyond 20, recurrence below, so no large logarithms are subtracted.</summary>
    private static double GammaRatio(double a)
    {
        var product = 1.0;
        for (; a < 20; a++) product *= a / (a + 0.5);
        var s = 1 / (a * a);
        var series = (-1.0 / 8 + s * (1.0 / 192 + s * (-1.0 / 640 + s * (17.0 / 14336)))) / a;
        return product * Math.Sqrt(a) * Math.Exp(series);
    }

    /// <summary>The continued fraction of the incomplete beta function, by the modified Lentz method.</summary>
    private static double ContinuedFraction(double x, double a, double b)
    {
        const double tiny = 1e-300;
        double c = 1, d = 1 / Away(1 - (a + b) * x / (a + 1)), result = d;
        for (var m = 1; m < 200_000; m++)
        {
            var even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
            d = 1 / Away(1 + even * d);
            c = Away(1 + even / c);
            result *= d * c;
            var odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
            d = 1 / Away(1 + odd * d);
            c = Away(1 + odd / c);
            result *= d * c;
            if (Math.Abs(d * c - 1) < 1e-15) break;
        }
        return result;

        static double Away(double value) => Math.Abs(value) < tiny ? tiny : value;
    }
}
