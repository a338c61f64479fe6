namespace AxleTelemetry.Service.Accuracy;

/// <summary>What a stated load rests on, as far as it decides how exact it can be.</summary>
internal enum FigureClass
{
    /// <summary>An axle whose circuit is its own and has a sensor.</summary>
    OwnSensor,

    /// <summary>An axle on a circuit that it shares with others.</summary>
    SharedCircuit,

    /// <summary>Gross, every group sensed.</summary>
    GrossSensed,

    /// <summary>Steer axle of an articulated vehicle whose drive axle and bogie are sensed.</summary>
    SteerArticulated,

    /// <summary>An axle of which one side is felt.</summary>
    OneSided,

    /// <summary>Steer axle of a rigid that is sensed at the rear only.</summary>
    SteerRearSensed,

    /// <summary>Gross where a rigid is sensed at the rear only.</summary>
    GrossRearSensed,

    /// <summary>Gross with a trailer without a sensor.</summary>
    GrossBare,

    /// <summary>Axles of which nothing is felt, others than those.</summary>
    Inferred,
}

/// <summary>What is asked of a class.</summary>
/// <param name="Fraction">Part of the load.</param>
/// <param name="Kilograms">But no less than this.</param>
internal readonly record struct Tolerance(double Fraction, double Kilograms)
{
    /// <summary>Kilograms allowed at a load; 95 % of settled legs are to be within.</summary>
    public double At(double load) => Math.Max(Fraction * load, Kilograms);

    /// <summary>What is asked of a class; <c>null</c> where pressure, lift and position cannot tell, and nothing is.</summary>
    public static Tolerance? Of(FigureClass figures, bool ticketed) => (figures, ticketed) switch
    {
        (FigureClass.OwnSensor, true) => new(0.03, 250),
        (FigureClass.SharedCircuit, true) => new(0.045, 300),
        (FigureClass.GrossSensed, true) => new(0.03, 400),
        (FigureClass.SteerArticulated, true) => new(0.05, 350),
        (FigureClass.OwnSensor or FigureClass.SharedCircuit, false) => new(0.12, 500),
        _ => null,
    };
}

/// <summary>The classes in words.</summary>
internal static class FigureClasses
{
    public static string Words(this FigureClass figures) => figures switch
    {
        FigureClass.OwnSensor => "axle with a sensor of its own",
        FigureClass.SharedCircuit => "axle on a shared circuit",
        FigureClass.GrossSensed => "gross, all groups sensed",
        FigureClass.SteerArticulated => "steer axle, drive and bogie sensed",
        FigureClass.OneSided => "axle felt on one side",
        FigureClass.SteerRearSensed => "steer axle, rear sensed only",
        FigureClass.GrossRearSensed => "gross, rear sensed only",
        FigureClass.GrossBare => "gross with a bare trailer",
        FigureClass.Inferred => "other axles without a sensor",
        _ => throw new ArgumentOutOfRangeException(nameof(figures), figures, "Unknown class."),
    };
}
