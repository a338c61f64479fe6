namespace AxleTelemetry.Domain.Quantities;

/// <summary>A length or a position along a body, in metres, rearward positive.</summary>
/// <remarks><c>default</c> is zero. Positions: a powered unit counts from its first axle, a semi-trailer from the kingpin, a centre-axle or drawbar trailer from the drawbar eye.</remarks>
public readonly record struct Length : IComparable<Length>
{
    private Length(double value) => Metres = value;

    /// <summary>The value in metres.</summary>
    public double Metres { get; }

    /// <summary>Builds from metres. Throws <see cref="ArgumentOutOfRangeException"/> for a value that is not finite.</summary>
    public static Length FromMetres(double value) => double.IsFinite(value)
        ? new(value)
        : throw new ArgumentOutOfRangeException(nameof(value), value, "A finite number is needed.");

    /// <inheritdoc/>
    public int CompareTo(Length other) => Metres.CompareTo(other.Metres);

    /// <summary>Sum.</summary>
    public static Length operator +(Length a, Length b) => FromMetres(a.Metres + b.Metres);

    /// <summary>Difference.</summary>
    public static Length operator -(Length a, Length b) => FromMetres(a.Metres - b.Metres);

    /// <summary>Smaller than.</summary>
    public static bool operator <(Length a, Length b) => a.Metres < b.Metres;

    /// <summary>Greater than.</summary>
    public static bool operator >(Length a, Length b) => a.Metres > b.Metres;

    /// <summary>At most.</summary>
    public static bool operator <=(Length a, Length b) => a.Metres <= b.Metres;

    /// <summary>At least.</summary>
    public static bool operator >=(Length a, Length b) => a.Metres >= b.Metres;

    /// <inheritdoc/>
    public override string ToString() => $"{Metres:0.###} m";
}
