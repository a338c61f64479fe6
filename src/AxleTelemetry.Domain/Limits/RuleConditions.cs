using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Limits;

/// <summary>A number of axles, both ends included.</summary>
public readonly record struct CountRange(int From, int To)
{
    /// <summary>This number and no other.</summary>
    public static CountRange Exactly(int count) => new(count, count);

    /// <summary>True for a number within.</summary>
    public bool Contains(int count) => count >= From && count <= To;
}

/// <summary>
/// An interval of axle distances. Acts close their intervals differently, so each end says which it is. Compared in whole
/// millimetres: positions are given to the millimetre, and 6.3 - 5.0 must be 1.3.
/// </summary>
/// <remarks><c>default</c>: any distance.</remarks>
public readonly record struct SpacingRange
{
    /// <summary>This distance or more; <c>null</c>: no such end.</summary>
    public Length? From { get; init; }

    /// <summary>More than this distance; <c>null</c>: no such end.</summary>
    public Length? Above { get; init; }

    /// <summary>Up to and including this distance; <c>null</c>: no such end.</summary>
    public Length? To { get; init; }

    /// <summary>Less than this distance; <c>null</c>: no such end.</summary>
    public Length? Below { get; init; }

    /// <summary>True for a distance within.</summary>
    public bool Contains(Length distance)
    {
        var d = Millimetres(distance);
        return (From is not { } from || d >= Millimetres(from))
            && (Above is not { } above || d > Millimetres(above))
            && (To is not { } to || d <= Millimetres(to))
            && (Below is not { } below || d < Millimetres(below));
    }

    private static double Millimetres(Length length) => Math.Round(length.Metres * 1000);
}

/// <summary>
/// How the driving axles must be fitted for a rule to hold. A group rule looks at the group's own driving axles and needs
/// at least one; a vehicle or combination rule at those of the powered unit.
/// </summary>
public sealed record Fitting
{
    /// <summary>Each driving axle has twin tyres.</summary>
    public bool Twin { get; init; }

    /// <summary>Each driving axle has air suspension, or one recognised as equivalent.</summary>
    public bool Air { get; init; }

    /// <summary>
    /// Registered mass (or, where none is registered, the rating) that no axle of the group or vehicle exceeds; <c>null</c>:
    /// no such condition. What the axle is approved for decides, not what it carries just now.
    /// </summary>
    public Mass? EachAxleAtMost { get; init; }
}

/// <summary>Vehicles as limit tables tell them apart.</summary>
public enum VehicleClass
{
    /// <summary>A rigid or a tractor.</summary>
    Motor,

    /// <summary>A trailer that is no semi-trailer.</summary>
    Trailer,

    /// <summary>A semi-trailer.</summary>
    SemiTrailer,

    /// <summary>Any trailer, semi-trailers included.</summary>
    AnyTrailer,
}

/// <summary>How a trailer is coupled.</summary>
public enum CombinationShape
{
    /// <summary>A rigid with a trailer.</summary>
    RoadTrain,

    /// <summary>A tractor with a semi-trailer.</summary>
    Articulated,
}
