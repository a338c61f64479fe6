using System.Globalization;

namespace AxleTelemetry.Domain.Quantities;

/// <summary>A moment in UTC, in whole milliseconds since 1970-01-01T00:00:00Z. Time is data: the core never asks a clock.</summary>
/// <remarks><c>default</c> is 1970-01-01T00:00:00Z.</remarks>
public readonly record struct Moment(long UnixMilliseconds) : IComparable<Moment>
{
    /// <summary>Seconds from <paramref name="earlier"/> to this moment; negative when it is later.</summary>
    public double SecondsSince(Moment earlier) => (UnixMilliseconds - earlier.UnixMilliseconds) / 1000.0;

    /// <summary>This moment moved by <paramref name="seconds"/>.</summary>
    public Moment Plus(double seconds) => new(UnixMilliseconds + (long)Math.Round(seconds * 1000.0));

    /// <inheritdoc/>
    public int CompareTo(Moment other) => UnixMilliseconds.CompareTo(other.UnixMilliseconds);

    /// <summary>Earlier than.</summary>
    public static bool operator <(Moment a, Moment b) => a.UnixMilliseconds < b.UnixMilliseconds;

    /// <summary>Later than.</summary>
    public static bool operator >(Moment a, Moment b) => a.UnixMilliseconds > b.UnixMilliseconds;

    /// <summary>Not later than.</summary>
    public static bool operator <=(Moment a, Moment b) => a.UnixMilliseconds <= b.UnixMilliseconds;

    /// <summary>Not earlier than.</summary>
    public static bool operator >=(Moment a, Moment b) => a.UnixMilliseconds >= b.UnixMilliseconds;

    /// <summary>RFC 3339 in UTC, to the millisecond.</summary>
    public override string ToString() =>
        DateTimeOffset.FromUnixTimeMilliseconds(UnixMilliseconds).ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture);
}
