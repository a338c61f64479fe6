namespace AxleTelemetry.Domain.Findings;

/// <summary>How sure it is that a limit is passed.</summary>
public enum Level : byte
{
    /// <summary>Not passed as far as can be told: probability below 0.5.</summary>
    Clear,

    /// <summary>More likely passed than not: probability 0.5 or more. Shown, nobody is called.</summary>
    Near,

    /// <summary>Probability 0.84 or more: an alert.</summary>
    Likely,

    /// <summary>Probability 0.975 or more: entered in the register.</summary>
    Surely,
}

/// <summary>Where the levels begin.</summary>
public static class Levels
{
    /// <summary>Standard normal quantile of 0.84.</summary>
    public const double LikelyFrom = 0.994457883209753;

    /// <summary>Standard normal quantile of 0.975.</summary>
    public const double SurelyFrom = 1.959963984540054;

    /// <summary>Widest 95 % half-width, as a fraction of the limit, at which anything but a sure overload is told.</summary>
    public const double WidestToTell = 0.08;

    /// <summary>Level of an excess that lies so many standard deviations above the limit.</summary>
    public static Level Of(double deviations) => deviations switch
    {
        >= SurelyFrom => Level.Surely,
        >= LikelyFrom => Level.Likely,
        >= 0 => Level.Near,
        _ => Level.Clear,
    };

    /// <summary>Standard deviations that an excess lies above its limit; without spread, far on its side.</summary>
    public static double Deviations(double mean, double sd) =>
        sd > 0 ? mean / sd : mean > 0 ? double.PositiveInfinity : mean < 0 ? double.NegativeInfinity : 0;
}
