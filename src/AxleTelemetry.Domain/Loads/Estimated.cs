namespace AxleTelemetry.Domain.Loads;

/// <summary>An estimate with its standard deviation, both in the unit of the thing.</summary>
/// <param name="Mean">Best estimate.</param>
/// <param name="Sd">Standard deviation, zero or more.</param>
public readonly record struct Estimated(double Mean, double Sd)
{
    /// <summary>Standard normal quantile of a two-sided 95 % interval.</summary>
    public const double Z95 = 1.959963984540054;

    /// <summary>Half-width of the 95 % interval.</summary>
    public double HalfWidth => Z95 * Sd;

    /// <summary>Lower end of the 95 % interval.</summary>
    public double Low => Mean - HalfWidth;

    /// <summary>Upper end of the 95 % interval.</summary>
    public double High => Mean + HalfWidth;
}
