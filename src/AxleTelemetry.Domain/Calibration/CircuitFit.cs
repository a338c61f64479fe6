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

    /// <summary>Residual standard deviation of one weighing about the line, kg. The noise of settled readings is learned from readings themselves.</summary>
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

    /// <summary>
    /// Degrees of freedom behind the residual. The variances above are those of the t distribution (inflated by nu / (nu - 2)), so that a
    /// reader who takes them as Gaussian is honest too; <c>null</c>: taken as Gaussian.
    /// </summary>
    public double? DegreesOfFreedom { get; init; }

    /// <summary>Standard deviation of the gain's change outside the ticketed range, as a part of the gain. 2 % unless stated (common practice).</summary>
    public double ExtrapolationRelativeDeviation { get; init; } = 0.02;

    /// <summary>Whether a pressure, kPa, lies outside the ticketed range. Without tickets nothing does: the handbook holds everywhere alike.</summary>
    public bool IsExtrapolated(double kilopascals) => kilopascals < LeastPressure || kilopascals > GreatestPressure;

    /// <summary>
    /// Variance to be added to <see cref="VarianceAt"/> outside the ticketed range, kg2: beyond the last ticket the bellows may bend away from
    /// the line. Zero inside the range, growing with the square of the distance from it.
    /// </summary>
    public double ExtrapolationVarianceAt(double kilopascals)
    {
        var outside = kilopascals < LeastPressure ? LeastPressure.Value - kilopascals
            : kilopascals > GreatestPressure ? kilopascals - GreatestPressure.Value : 0;
        var deviation = ExtrapolationRelativeDeviation * KilogramsPerKilopascal * outside;
        return deviation * deviation;
    }

    /// <summary>
    /// Where the line is at a pressure, kPa, with probability <paramref name="level"/>: calibration alone. This is what never averages away.
    /// Throws <see cref="ArgumentOutOfRangeException"/> for a level not between 0 and 1.
    /// </summary>
    public LoadInterval IntervalAt(double kilopascals, double level = 0.95) => LoadInterval.Around(this, kilopascals, 0, level);

    /// <summary>Where the sprung load of one settled reading is: the line and the residual about it. Otherwise as <see cref="IntervalAt"/>.</summary>
    public LoadInterval ReadingIntervalAt(double kilopascals, double level = 0.95) =>
        LoadInterval.Around(this, kilopascals, ResidualKilograms * ResidualKilograms, level);

    /// <summary>
    /// The fit after so many years: gain +0.5 % and offset +30 kg a year, as standard deviations of a steady drift of unknown sign, in
    /// quadrature to what was unknown. Count the years from the fit's own tickets: ageing twice by one year is less than once by two.
    /// Throws <see cref="ArgumentOutOfRangeException"/> for years below zero or not finite.
    /// </summary>
    public CircuitFit Aged(double years)
    {
        Guard.NotNegative(years);
        double gain = 0.005 * KilogramsPerKilopascal * years, offset = 30 * years;
        return this with { GainVariance = GainVariance + gain * gain, OffsetVariance = OffsetVariance + offset * offset };
    }
}
