namespace AxleTelemetry.Domain.Limits;

/// <summary>
/// A bridge formula: what a run of N consecutive axles over a distance L between the outermost may weigh, W = a L N/(N-1) + b N + c, so that a heavy
/// load is spread over a bridge. Kept in pounds and feet, in which it is law.
/// </summary>
/// <param name="PoundsPerFoot">a, lb/ft.</param>
/// <param name="PoundsPerAxle">b, lb.</param>
/// <param name="Pounds">c, lb.</param>
/// <param name="RoundPounds">The result is rounded to a whole number of these; 0: not rounded.</param>
public sealed record BridgeFormula(double PoundsPerFoot, double PoundsPerAxle, double Pounds, double RoundPounds)
{
    /// <summary>Kilograms in a pound (exact).</summary>
    public const double KilogramsPerPound = 0.45359237;

    /// <summary>Metres in a foot (exact).</summary>
    public const double MetresPerFoot = 0.3048;

    /// <summary>Pounds before rounding.</summary>
    public double Raw(double feet, int axles) => PoundsPerFoot * feet * axles / (axles - 1) + PoundsPerAxle * axles + Pounds;

    /// <summary>Pounds that a run of axles may weigh.</summary>
    /// <param name="feet">Distance between the outermost axles, whole feet.</param>
    /// <param name="axles">At least 2.</param>
    public double PoundsOf(double feet, int axles) =>
        RoundPounds > 0 ? RoundPounds * Math.Round(Raw(feet, axles) / RoundPounds, MidpointRounding.AwayFromZero) : Raw(feet, axles);

    /// <summary>Kilograms that a run of axles may weigh. The distance counts in whole feet, half a foot as one, as the published table does.</summary>
    public double KilogramsOf(double metres, int axles) =>
        PoundsOf(Math.Round(Math.Round(metres * 1000) / 1000 / MetresPerFoot, MidpointRounding.AwayFromZero), axles) * KilogramsPerPound;
}

/// <summary>A rule about every run of consecutive axles on the road, through the whole combination.</summary>
public sealed record BridgeRule : LimitRule
{
    /// <summary>The formula.</summary>
    public required BridgeFormula Formula { get; init; }
}
