namespace AxleTelemetry.Simulator.Statics;

/// <summary>What a combination feels on the road.</summary>
/// <param name="Slope">Acceleration in g plus the sine of the grade: positive speeding up and uphill.</param>
/// <param name="AirSpeed">Speed through the air, m/s.</param>
/// <param name="Rolling">True while the wheels turn: trailers then drag at their couplings by their rolling resistance.</param>
/// <remarks><c>default</c>: standing on the level.</remarks>
public readonly record struct RoadMotion(double Slope, double AirSpeed, bool Rolling)
{
    /// <summary>Standard gravity, m/s2.</summary>
    public const double Gravity = 9.80665;

    private const double AirDensity = 1.225;

    /// <summary>Air drag in kg of a body with this drag area in m2.</summary>
    public double Drag(double area) => AirDensity / 2 * area * AirSpeed * AirSpeed / Gravity;
}
