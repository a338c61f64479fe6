namespace AxleTelemetry.Domain.Calibration;

/// <summary>The air springs of one axle, from which a handbook gain follows.</summary>
/// <remarks>
/// A trailing arm turns about its pivot on the frame. The road pushes the axle up with the sprung load S at distance La from the pivot, the
/// bellows push the arm down with F = p A n at distance Lb. Turn the arm by a small angle d: the axle rises by La d, the bellows are pressed
/// together by Lb d, the pivot does not move and its force does no work. Virtual work S La d = F Lb d gives S = p A n (Lb / La): the lever
/// ratio is (pivot to bellows) / (pivot to axle), above 1 where the bellows stand behind the axle. In the trade's kilograms per kilopascal:
/// b = A n (Lb / La) x 1000 / 9.80665, A in m2.
/// </remarks>
public sealed record BellowsGeometry
{
    /// <summary>Standard acceleration, m/s2: the trade's kilogram of load is force over this.</summary>
    public const double StandardGravity = 9.80665;

    /// <summary>
    /// Describes the bellows of one axle. Throws <see cref="ArgumentOutOfRangeException"/> for a value that is not finite or not above zero.
    /// </summary>
    /// <param name="effectiveAreaSquareCentimetres">Effective area of one bellows at driving height, cm2; usual 300 to 800.</param>
    /// <param name="bellowsPerAxle">Number of bellows on the axle, usually 2 or 4.</param>
    /// <param name="leverRatio">(Pivot to bellows) / (pivot to axle); 1 where the bellows stand on the axle.</param>
    public BellowsGeometry(double effectiveAreaSquareCentimetres, int bellowsPerAxle, double leverRatio)
    {
        EffectiveAreaSquareCentimetres = Guard.Positive(effectiveAreaSquareCentimetres);
        BellowsPerAxle = (int)Guard.Positive(bellowsPerAxle);
        LeverRatio = Guard.Positive(leverRatio);
    }

    /// <summary>Effective area of one bellows, cm2.</summary>
    public double EffectiveAreaSquareCentimetres { get; }

    /// <summary>Number of bellows on the axle.</summary>
    public int BellowsPerAxle { get; }

    /// <summary>(Pivot to bellows) / (pivot to axle).</summary>
    public double LeverRatio { get; }

    /// <summary>Gain b, kg of sprung load per kPa.</summary>
    public double KilogramsPerKilopascal =>
        EffectiveAreaSquareCentimetres * 1e-4 * BellowsPerAxle * LeverRatio * 1000 / StandardGravity;
}
