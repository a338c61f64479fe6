namespace AxleTelemetry.Domain.Statistics;

/// <summary>The standard normal distribution (mean 0, standard deviation 1).</summary>
public static class Normal
{
    private static ReadOnlySpan<double> CentreUpper =>
    [
        2.5090809287301226727e3, 3.3430575583588128105e4, 6.7265770927008700853e4, 4.5921953931549871457e4,
        1.3731693765509461125e4, 1.9715909503065514427e3, 1.3314166789178437745e2, 3.3871328727963666080,
    ];

    private static ReadOnlySpan<double> CentreLower =>
    [
        5.2264952788528545610e3, 2.8729085735721942674e4, 3.9307895800092710610e4, 2.1213794301586595867e4,
        5.3941960214247511077e3, 6.8718700749205790830e2, 4.2313330701600911252e1, 1,
    ];

    private static ReadOnlySpan<double> FlankUpper =>
    [
        7.74545014278341407640e-4, 2.27238449892691845833e-2, 2.41780725177450611770e-1, 1.27045825245236838258,
        3.64784832476320460504, 5.76949722146069140550, 4.63033784615654529590, 1.42343711074968357734,
    ];

    private static ReadOnlySpan<double> FlankLower =>
    [
        1.05075007164441684324e-9, 5.47593808499534494600e-4, 1.51986665636164571966e-2, 1.48103976427480074590e-1,
        6.89767334985100004550e-1, 1.67638483018380384940, 2.05319162663775882187, 1,
    ];

    private static ReadOnlySpan<double> TailUpper =>
    [
        2.01033439929228813265e-7, 2.71155556874348757815e-5, 1.24266094738807843860e-3, 2.65321895265761230930e-2,
        2.96560571828504891230e-1, 1.78482653991729133580, 5.46378491116411436990, 6.65790464350110377720,
    ];

    private static ReadOnlySpan<double> TailLower =>
    [
        2.04426310338993978564e-15, 1.42151175831644588870e-7, 1.84631831751005468180e-5, 7.86869131145613259100e-4,
        1.48753612908506148525e-2, 1.36929880922735805310e-1, 5.99832206555887937690e-1, 1,
    ];

    /// <summary>
    /// Probability of a value below <paramref name="z"/>. Relative error at most 1e-14 for |z| up to 8 and 1e-13 down to z = -37, so
    /// small tails keep their digits. Infinite <paramref name="z"/> gives 0 or 1. Throws <see cref="ArgumentOutOfRangeException"/> for NaN.
    /// </summary>
    public static double Cdf(double z) => double.IsNaN(z)
        ? throw new ArgumentOutOfRangeException(nameof(z), z, "A number is needed.")
        : 0.5 * ErrorFunction.Complement(-z / Math.Sqrt(2));

    /// <summary>
    /// The value that is not exceeded with <paramref name="probability"/>. M. J. Wichura, Applied Statistics 37 (1988) 477-484,
    /// algorithm AS 241: relative error about 1e-15 for probabilities from 1e-300 to 1 - 1e-16. 0 and 1 give minus and plus infinity.
    /// Throws <see cref="ArgumentOutOfRangeException"/> outside 0 to 1.
    /// </summary>
    public static double Quantile(double probability)
    {
        if (!(probability >= 0 && probability <= 1))
            throw new ArgumentOutOfRangeException(nameof(probability), probability, "A probability from 0 to 1 is needed.");
        var centred = probability - 0.5;
        if (Math.Abs(centred) <= 0.425) return Centre(centred);
        var tail = Math.Min(probability, 1 - probability);
        return tail == 0 ? Math.CopySign(double.PositiveInfinity, centred) : Math.CopySign(Outside(tail), centred);
    }

    private static double Centre(double centred)
    {
        var r = 0.180625 - centred * centred;
        return centred * Polynomial.At(CentreUpper, r) / Polynomial.At(CentreLower, r);
    }

    private static double Outside(double tail)
    {
        var r = Math.Sqrt(-Math.Log(tail));
        return r <= 5
            ? Polynomial.At(FlankUpper, r - 1.6) / Polynomial.At(FlankLower, r - 1.6)
            : Polynomial.At(TailUpper, r - 5) / Polynomial.At(TailLower, r - 5);
    }
}
