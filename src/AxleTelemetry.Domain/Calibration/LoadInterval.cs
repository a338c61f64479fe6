using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Statistics;

namespace AxleTelemetry.Domain.Calibration;

/// <summary>A sprung load with its interval.</summary>
/// <param name="Estimate">The most that is known: the line.</param>
/// <param name="HalfWidth">From the estimate to either end, not negative.</param>
/// <param name="Extrapolated">The pressure lies outside the ticketed range; the interval is wider for it.</param>
public readonly record struct LoadInterval(Mass Estimate, Mass HalfWidth, bool Extrapolated)
{
    /// <summary>Lower end.</summary>
    public Mass Low => Estimate - HalfWidth;

    /// <summary>Upper end.</summary>
    public Mass High => Estimate + HalfWidth;

    internal static LoadInterval Around(CircuitFit fit, double kilopascals, double residualVariance, double level)
    {
        if (!(level > 0 && level < 1)) throw new ArgumentOutOfRangeException(nameof(level), level, "A probability between 0 and 1 is needed.");
        var variance = fit.VarianceAt(kilopascals) + fit.ExtrapolationVarianceAt(kilopascals) + residualVariance;
        var half = Factor(fit.DegreesOfFreedom, 0.5 + level / 2) * Math.Sqrt(variance);
        return new(Mass.FromKilograms(fit.At(kilopascals)), Mass.FromKilograms(half), fit.IsExtrapolated(kilopascals));
    }

    /// <summary>Student's t for a variance that already is the t's own.</summary>
    private static double Factor(double? freedom, double probability) => freedom is { } nu and > 2
        ? StudentT.Quantile(probability, nu) * Math.Sqrt((nu - 2) / nu)
        : Normal.Quantile(probability);
}
