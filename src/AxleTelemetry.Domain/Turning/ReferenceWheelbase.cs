using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Turning;

/// <summary>
/// How type approval takes a semi-trailer: it is deemed to stay within the ring where the middle of its unsteered axles is near enough to the kingpin, which
/// itself runs 2.04 m (its own front corner) inside the outer circle. Regulation (EU) 2021/535, from memory. Steady turning with a tractor ahead is harder.
/// </summary>
public static class ReferenceWheelbase
{
    /// <summary>From the kingpin to the front corner of the semi-trailer at most, m: Directive 96/53/EC, Annex I, 4.4, from memory.</summary>
    public const double FrontCorner = 2.04;

    /// <summary>From the kingpin to the middle of the unsteered axles on the road, m; <c>null</c> where all steer.</summary>
    public static double? Of(BodyPart body, Configuration configuration)
    {
        ImmutableArray<double> places = [.. body.Vehicle.Axles
            .Where((a, i) => a.Steering == Steering.None && configuration[body.FirstAxle + i] != AxleState.Raised).Select(a => a.Position.Metres)];
        return places.IsEmpty ? null : places.Average();
    }

    /// <summary>The longest that is deemed to stay within a ring, m.</summary>
    /// <param name="ring">The ring.</param>
    /// <param name="width">Width of the semi-trailer, m.</param>
    public static double Most(TurningRing ring, double width) =>
        Math.Sqrt(Math.Pow(ring.Outer - FrontCorner, 2) - Math.Pow(ring.Inner + width / 2, 2));
}
