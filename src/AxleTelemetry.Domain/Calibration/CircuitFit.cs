namespace AxleTelemetry.Domain.Calibration;

/// <summary>
/// What a pressure means: sprung load of the circuit's reference axle S = a + b p, with what is not known about a and b.
/// The product of a calibration, whatever it came from (handbook alone, or handbook and tickets); immutable, cited by version.
/// </summary>
public sealed record CircuitFit
{
    /// <summary>Offset a: sprung load at no pressure, kg.</summary>
    public required double OffsetKilograms { get; init; }

    /// <summary>Gain b, kg per kPa, greater than zero.</summary>
    public required double KilogramsPerKilopascal { get; init; }

    /// <summary>Variance of a, kg2.</summary>
    public required double OffsetVariance { get; init; }

    /// <summary>Variance of b, (kg/kPa)2.</summary>
    public required double GainVariance { get; init; }

    /// <summary>Covariance of a and b, kg2/kPa.</summary>
    public required double Covariance { get; init; }

    /// <summary>Residual standard deviation of one weighing about the line, kg: a floor for the noise of a settled reading.</summary>
    public required double ResidualKilograms { get; init; }

    /// <summary>Version that findings cite, for example <c>handbook</c> or <c>2026-03-02/3</c>.</summary>
    public required string Version { get; init; }

    /// <summary>Number of weighbridge tickets behind it; 0 = handbook only.</summary>
    public int Tickets { get; init; }

    /// <summary>Lowest pressure seen in a ticket, kPa; <c>null</c> without tickets. Readings outside the range are marked extrapolated.</summary>
    public double? LeastPressure { get; init; }

    /// <summary>Greatest pressure seen in a ticket, kPa; <c>null</c> without tickets.</summary>
    public double? GreatestPressure { get; init; }

    /// <summary>Estimated sprung load at a pressure, kg.</summary>
    public double At(double kilopascals) => OffsetKilograms + KilogramsPerKilopascal * kilopascals;

    /// <summary>Variance of the line at a pressure, kg2 (without the residual).</summary>
    public double VarianceAt(double kilopascals) =>
        OffsetVariance + 2 * kilopascals * Covariance + kilopascals * kilopascals * GainVariance;
}
