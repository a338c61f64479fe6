namespace AxleTelemetry.Domain.Quantities;

/// <summary>A mass, and by the custom of the trade a load: force divided by 9.80665 m/s2, in kilograms.</summary>
/// <remarks><c>default</c> is zero. May be negative (a difference, or a coupling that lifts).</remarks>
public readonly record struct Mass : IComparable<Mass>
{
    private Mass(double value) => Kilograms = value;

    /// <summary>The value in kilograms.</summary>
    public double Kilograms { get; }

    /// <summary>Builds from kilograms. Throws <see cref="ArgumentOutOfRangeException"/> for a value that is not finite.</summary>
    public static Mass FromKilograms(double value) => double.IsFinite(value)
        ? new(value)
        : throw new ArgumentOutOfRangeException(nameof(value), value, "A finite number is needed.");

    /// <inheritdoc/>
    public int CompareTo(Mass other) => Kilograms.CompareTo(other.Kilograms);

    /// <summary>Sum.</summary>
    public static Mass operator +(Mass a, Mass b) => FromKilograms(a.Kilograms + b.Kilograms);

    /// <summary>Difference.</summary>
    public static Mass operator -(Mass a, Mass b) => FromKilograms(a.Kilograms - b.Kilograms);

    /// <summary>Smaller than.</summary>
    public static bool operator <(Mass a, Mass b) => a.Kilograms < b.Kilograms;

    /// <summary>Greater than.</summary>
    public static bool operator >(Mass a, Mass b) => a.Kilograms > b.Kilograms;

    /// <summary>At most.</summary>
    public static bool operator <=(Mass a, Mass b) => a.Kilograms <= b.Kilograms;

    /// <summary>At least.</summary>
    public static bool operator >=(Mass a, Mass b) => a.Kilograms >= b.Kilograms;

    /// <inheritdoc/>
    public override string ToString() => $"{Kilograms:0.#} kg";
}
