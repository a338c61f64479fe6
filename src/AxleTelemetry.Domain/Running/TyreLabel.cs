namespace AxleTelemetry.Domain.Running;

/// <summary>Fuel efficiency class of a truck tyre's label.</summary>
public enum TyreClass
{
    /// <summary>Up to 4.0 N/kN.</summary>
    A,

    /// <summary>4.1 to 5.0 N/kN.</summary>
    B,

    /// <summary>5.1 to 6.0 N/kN.</summary>
    C,

    /// <summary>6.1 to 7.0 N/kN.</summary>
    D,

    /// <summary>7.1 N/kN and more.</summary>
    E,
}

/// <summary>The label of truck tyres (class C3), Regulation (EU) 2020/740.</summary>
public static class TyreLabel
{
    /// <summary>Class of a rolling resistance coefficient, N/kN, which the label knows to one decimal.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not above zero, or no number.</exception>
    public static TyreClass Of(double newtonsPerKilonewton)
    {
        if (!(newtonsPerKilonewton > 0)) throw new ArgumentOutOfRangeException(nameof(newtonsPerKilonewton), newtonsPerKilonewton, "Above zero.");
        return Math.Round(newtonsPerKilonewton, 1, MidpointRounding.AwayFromZero) switch
        {
            <= 4.0 => TyreClass.A,
            <= 5.0 => TyreClass.B,
            <= 6.0 => TyreClass.C,
            <= 7.0 => TyreClass.D,
            _ => TyreClass.E,
        };
    }
}
