using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Reading;

/// <summary>Where a page of a vehicle's inputs ended: they are read by least sample time, then position.</summary>
/// <remarks><see cref="Start"/> lies before every input; <c>default</c> lies at 1970.</remarks>
public readonly record struct InputPlace(Moment Least, Position Position) : IComparable<InputPlace>
{
    /// <summary>Before every input.</summary>
    public static InputPlace Start => new(new Moment(long.MinValue), Position.Start);

    /// <summary>The place of an input.</summary>
    public static InputPlace Of(LoggedInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        return new InputPlace(input.Row.Samples.Least, input.Position);
    }

    /// <inheritdoc/>
    public int CompareTo(InputPlace other) => Least.CompareTo(other.Least) is var byTime and not 0 ? byTime : Position.CompareTo(other.Position);

    /// <summary>Before.</summary>
    public static bool operator <(InputPlace a, InputPlace b) => a.CompareTo(b) < 0;

    /// <summary>After.</summary>
    public static bool operator >(InputPlace a, InputPlace b) => a.CompareTo(b) > 0;

    /// <summary>Not after.</summary>
    public static bool operator <=(InputPlace a, InputPlace b) => a.CompareTo(b) <= 0;

    /// <summary>Not before.</summary>
    public static bool operator >=(InputPlace a, InputPlace b) => a.CompareTo(b) >= 0;
}
