using AxleTelemetry.Domain.Calibration;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>The prior of a circuit's calibration from its geometry.</summary>
/// <remarks>To be replaced by the domain's own handbook prior; kept apart so that this is one line.</remarks>
internal static class HandbookFit
{
    private const double Gravity = 9.80665;
    private const double GainRelativeSd = 0.06;
    private const double OffsetSdKilograms = 150;
    private const double ResidualPart = 0.015;

    /// <summary>Gain of bellows geometry, kg per kPa at the axle.</summary>
    public static double Gain(double effectiveAreaCm2, double bellowsPerAxle, double leverRatio) =>
        effectiveAreaCm2 / 10_000 * bellowsPerAxle * leverRatio * 1000 / Gravity;

    /// <summary>The prior for a gain and the rating of the reference axle.</summary>
    public static CircuitFit Of(double kilogramsPerKilopascal, double ratingKilograms) => new()
    {
        OffsetKilograms = 0,
        KilogramsPerKilopascal = kilogramsPerKilopascal,
        OffsetVariance = OffsetSdKilograms * OffsetSdKilograms,
        GainVariance = Math.Pow(GainRelativeSd * kilogramsPerKilopascal, 2),
        Covariance = 0,
        ResidualKilograms = ResidualPart * ratingKilograms,
        Version = "handbook",
    };
}
