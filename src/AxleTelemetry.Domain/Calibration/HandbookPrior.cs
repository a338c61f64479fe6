using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Calibration;

/// <summary>
/// What is believed of a circuit before any ticket: gain from the handbook, offset near zero, and how far a weighing scatters about the line.
/// The standard deviations are common practice, parameters all. Setters throw <see cref="ArgumentOutOfRangeException"/> outside their range.
/// </summary>
public sealed record HandbookPrior
{
    private HandbookPrior(double kilogramsPerKilopascal, Mass typicalAxleLoad)
    {
        KilogramsPerKilopascal = Guard.Positive(kilogramsPerKilopascal);
        ResidualKilograms = 0.015 * Guard.Positive(typicalAxleLoad.Kilograms, nameof(typicalAxleLoad));
    }

    /// <summary>Mean of the gain b, kg per kPa, above zero.</summary>
    public double KilogramsPerKilopascal { get; }

    /// <summary>Standard deviation of the gain as a part of the gain, above zero. 6 % unless stated.</summary>
    public double GainRelativeDeviation { get; init => field = Guard.Positive(value); } = 0.06;

    /// <summary>Mean of the offset a, kg. Zero unless stated.</summary>
    public double OffsetKilograms { get; init => field = Guard.Finite(value); }

    /// <summary>Standard deviation of the offset, kg, above zero. 150 kg unless stated.</summary>
    public double OffsetDeviationKilograms { get; init => field = Guard.Positive(value); } = 150;

    /// <summary>
    /// Root of the expected variance of a weighing about the line, kg, above zero; the ticket's own error comes on top. 1.5 % of the typical
    /// axle load unless stated.
    /// </summary>
    public double ResidualKilograms { get; init => field = Guard.Positive(value); }

    /// <summary>How firmly the residual is believed: as if it came from this many earlier tickets, above 2. Four unless stated.</summary>
    public double EarlierTickets
    {
        get;
        init => field = value > 2 ? Guard.Finite(value) : throw new ArgumentOutOfRangeException(nameof(value), value, "More than 2 is needed.");
    } = 4;

    /// <summary>Standard deviation of the gain, kg per kPa.</summary>
    public double GainDeviation => GainRelativeDeviation * KilogramsPerKilopascal;

    /// <summary>The prior of an axle whose bellows are described. Throws <see cref="ArgumentOutOfRangeException"/> for a load not above zero.</summary>
    public static HandbookPrior FromBellows(BellowsGeometry bellows, Mass typicalAxleLoad) =>
        new(bellows.KilogramsPerKilopascal, typicalAxleLoad);

    /// <summary>
    /// The prior that a handbook fit says again: what a vehicle's description carries, before any ticket. Throws
    /// <see cref="ArgumentOutOfRangeException"/> for a load not above zero or a fit without spread.
    /// </summary>
    public static HandbookPrior FromFit(CircuitFit handbook, Mass typicalAxleLoad) => new(handbook.KilogramsPerKilopascal, typicalAxleLoad)
    {
        OffsetKilograms = handbook.OffsetKilograms,
        GainRelativeDeviation = Math.Sqrt(handbook.GainVariance) / handbook.KilogramsPerKilopascal,
        OffsetDeviationKilograms = Math.Sqrt(handbook.OffsetVariance),
        ResidualKilograms = handbook.ResidualKilograms,
    };

    /// <summary>The prior of an axle whose gain is stated. Throws <see cref="ArgumentOutOfRangeException"/> for a gain or load not above zero.</summary>
    public static HandbookPrior FromGain(double kilogramsPerKilopascal, Mass typicalAxleLoad) => new(kilogramsPerKilopascal, typicalAxleLoad);
}
