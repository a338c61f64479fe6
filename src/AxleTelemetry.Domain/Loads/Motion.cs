namespace AxleTelemetry.Domain.Loads;

/// <summary>What a combination feels while it is measured, beyond gravity on the level.</summary>
/// <param name="Slope">tau = a/g + sin(grade): a positive speeding up, grade positive uphill.</param>
/// <param name="SpeedSquared">Square of the speed through the air, m2/s2.</param>
/// <param name="Rolling">True while the wheels turn: the trailers' rolling resistance pulls at the couplings.</param>
/// <remarks><c>default</c>: standing on the level. Judged loads are always those.</remarks>
public readonly record struct Motion(double Slope, double SpeedSquared, bool Rolling)
{
    /// <summary>Standard gravity, m/s2 (ISO 80000-3, exact).</summary>
    public const double Gravity = 9.80665;

    /// <summary>Density of air at 15 degrees Celsius and sea level, kg/m3 (ISO 2533).</summary>
    public const double AirDensity = 1.225;
}
