namespace AxleTelemetry.Domain.Turning;

/// <summary>
/// The wheelbase of a two-axle vehicle that turns as one with several fixed axles does: those ahead and behind of their middle
/// slip sideways and push the turning centre rearward.
/// </summary>
public static class EquivalentWheelbase
{
    /// <summary>Cornering stiffness of the rear tyres over that of the front ones, where nobody states it. Common practice.</summary>
    public const double UsualStiffnessRatio = 1;

    /// <summary>L [1 + (T / L2) (1 + Cr / Cf)], m.</summary>
    /// <param name="wheelbase">L: from the steered axle to the middle of the fixed axles, m; greater than zero.</param>
    /// <param name="spread">T, see <see cref="Spread"/>, m2.</param>
    /// <param name="stiffnessRatio">Cr / Cf: cornering stiffness of the rear tyres over that of the front ones.</param>
    public static double Metres(double wheelbase, double spread, double stiffnessRatio) =>
        wheelbase * (1 + spread / (wheelbase * wheelbase) * (1 + stiffnessRatio));

    /// <summary>T: mean square distance of axles from their middle, m2.</summary>
    /// <param name="positions">Where the fixed axles stand, m; at least one.</param>
    public static double Spread(IReadOnlyCollection<double> positions)
    {
        var middle = positions.Average();
        return positions.Sum(x => (x - middle) * (x - middle)) / positions.Count;
    }
}
