namespace AxleTelemetry.Domain.Loads;

/// <summary>
/// One thing that is not exactly known and does not average away: counted in every interval, never estimated. Each is
/// scaled to a standard normal, so that a sensitivity is 'kilograms per one standard deviation'.
/// </summary>
/// <param name="Kind">What it is an error of.</param>
/// <param name="Body">Body it belongs to, -1 for the whole combination.</param>
/// <param name="Element">Axle, sensor or fixture (counted through the combination; a fixture within its body), -1 where there is none.</param>
/// <param name="Sd">One standard deviation, in the unit of the thing.</param>
public readonly record struct ConsideredError(ConsideredKind Kind, int Body, int Element, double Sd);

/// <summary>What a considered error is an error of. Those from <see cref="Gain"/> on belong to a sensor.</summary>
public enum ConsideredKind
{
    /// <summary>Unsprung mass of an axle, kg.</summary>
    Unsprung,

    /// <summary>Kerb weighing, front support, kg.</summary>
    KerbFront,

    /// <summary>Kerb weighing, rear support, kg.</summary>
    KerbRear,

    /// <summary>Share of an axle in its group, relative.</summary>
    Share,

    /// <summary>What an unloaded axle still carries, kg.</summary>
    Residual,

    /// <summary>Force of a regulated axle or of a valve's ceiling, kg.</summary>
    Regulated,

    /// <summary>Fuel, crew and kit, kg.</summary>
    Service,

    /// <summary>Position of a coupling, m.</summary>
    CouplingPosition,

    /// <summary>A fixture of which nobody knows whether it is aboard, kg.</summary>
    Fixture,

    /// <summary>Air drag, as a fraction of it. Felt while measuring only.</summary>
    Drag,

    /// <summary>First independent direction of a calibration's (a, b).</summary>
    Gain,

    /// <summary>Second independent direction of a calibration's (a, b).</summary>
    Offset,

    /// <summary>What one leg's road does to a circuit (crown, grade, wind), as a fraction of its load; new each leg.</summary>
    Leg,

    /// <summary>Temperature and ambient pressure, kPa; new each leg.</summary>
    Environment,

    /// <summary>The unmeasured side of a one-sided circuit, as a fraction of its load.</summary>
    OtherSide,

    /// <summary>A pressure outside the range of the tickets: the bellows may bend away from the line there.</summary>
    Extrapolation,
}
