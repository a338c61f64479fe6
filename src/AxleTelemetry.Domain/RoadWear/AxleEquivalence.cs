namespace AxleTelemetry.Domain.RoadWear;

/// <summary>How many standard axles wear a road as much as one group of axles does.</summary>
public static class AxleEquivalence
{
    /// <summary>Standard axle of the AASHO road test, kip.</summary>
    public const double StandardKip = 18;

    /// <summary>The same in kilograms: 80 kN.</summary>
    public const double StandardKilograms = 8_160;

    /// <summary>Most axles in a group that the equation was fitted to.</summary>
    public const int MostAxles = 3;

    private const double KilogramsPerKip = 453.59237;

    /// <summary>AASHTO Guide 1993, flexible pavements, the full equation. Zero for a group without load.</summary>
    /// <param name="kilograms">Load of the whole group.</param>
    /// <param name="axles">1 single, 2 tandem, 3 tridem.</param>
    /// <param name="pavement">What it rolls on.</param>
    public static double Aashto(double kilograms, int axles, Pavement pavement)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(axles, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(axles, MostAxles);
        if (kilograms <= 0) return 0;
        var kip = kilograms / KilogramsPerKip;
        var serviceability = Math.Log10((4.2 - pavement.TerminalServiceability) / 2.7);
        var exponent = 4.79 * Math.Log10(StandardKip + 1) - 4.79 * Math.Log10(kip + axles) + 4.33 * Math.Log10(axles)
            + serviceability / Slope(kip, axles, pavement) - serviceability / Slope(StandardKip, 1, pavement);
        return Math.Pow(10, -exponent);
    }

    /// <summary>The plain fourth power of an axle's load on a standard axle's.</summary>
    public static double FourthPower(double kilograms, double standardKilograms = StandardKilograms)
    {
        var ratio = Math.Max(kilograms, 0) / standardKilograms;
        return ratio * ratio * ratio * ratio;
    }

    private static double Slope(double kip, int axles, Pavement pavement) =>
        0.40 + 0.081 * Math.Pow(kip + axles, 3.23) / (Math.Pow(pavement.StructuralNumber + 1, 5.19) * Math.Pow(axles, 3.23));
}
