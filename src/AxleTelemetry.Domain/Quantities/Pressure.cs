namespace AxleTelemetry.Domain.Quantities;

/// <summary>A bellows pressure in kilopascals above atmosphere.</summary>
/// <remarks><c>default</c> is zero. Plausible device values lie in -5 to 1600 kPa; the type itself holds any finite number.</remarks>
public readonly record struct Pressure : IComparable<Pressure>
{
    private Pressure(double value) => Kilopascals = value;

    /// <summary>The value in kilopascals.</summary>
    public double Kilopascals { get; }

    /// <summary>Builds from kilopascals. Throws <see cref="ArgumentOutOfRangeException"/> for a value that is not finite.</summary>
    public static Pressure FromKilopascals(double value) => double.IsFinite(value)
        ? new(value)
        : throw new ArgumentOutOfRangeException(nameof(value), value, "A finite number is needed.");

    /// <inheritdoc/>
    public int CompareTo(Pressure other) => Kilopascals.CompareTo(other.Kilopascals);

    /// <summary>Sum.</summary>
    public static Pressure operator +(Pressure a, Pressure b) => FromKilopascals(a.Kilopascals + b.Kilopascals);

    /// <summary>Difference.</summary>
    public static Pressure operator -(Pressure a, Pressure b) => FromKilopascals(a.Kilopascals - b.Kilopascals);

    /// <summary>Smaller than.</summary>
    public static bool operator <(Pressure a, Pressure b) => a.Kilopascals < b.Kilopascals;

    /// <summary>Greater than.</summary>
    public static bool operator >(Pressure a, Pressure b) => a.Kilopascals > b.Kilopascals;

    /// <summary>At most.</summary>
    public static bool operator <=(Pressure a, Pressure b) => a.Kilopascals <= b.Kilopascals;

    /// <summary>At least.</summary>
    public static bool operator >=(Pressure a, Pressure b) => a.Kilopascals >= b.Kilopascals;

    /// <inheritdoc/>
    public override string ToString() => $"{Kilopascals:0.#} kPa";
}
