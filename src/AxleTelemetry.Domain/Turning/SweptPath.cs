using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Turning;

/// <summary>
/// Steady turning of a combination, slowly, with its front outer corner on a circle. Every body is taken about the middle of its fixed axles
/// on the road with an equivalent wheelbase. A steered axle, and a castering one (free below its lock), follows the bend and holds nothing.
/// </summary>
public sealed class SweptPath
{
    private readonly Combination _combination;
    private readonly Configuration _configuration;
    private readonly TurningAssumptions _assumed;
    private readonly ImmutableArray<AxleSlip>.Builder _slips = ImmutableArray.CreateBuilder<AxleSlip>();

    private SweptPath(Combination combination, Configuration configuration, TurningAssumptions assumed) =>
        (_combination, _configuration, _assumed) = (combination, configuration, assumed);

    /// <summary>Drives round.</summary>
    /// <param name="combination">The vehicles.</param>
    /// <param name="configuration">Which axles are on the road.</param>
    /// <param name="assumed">What the descriptions do not hold.</param>
    /// <param name="ring">The ring.</param>
    public static Turn Of(Combination combination, Configuration configuration, TurningAssumptions assumed, TurningRing ring) =>
        new SweptPath(combination, configuration, assumed).Drive(ring);

    private Turn Drive(TurningRing ring)
    {
        var powered = _combination.Bodies[0];
        if (Fixed(powered, powered.Vehicle.Front) is not { Length: > 0 } rear) return new Turn.NoFixedAxle(0);
        var front = powered.Vehicle.Front!.Axles.Where(i => OnRoad(powered, i)).Average(i => At(powered, i));
        var length = Length(rear, powered, front);
        var corner = Math.Pow(ring.Outer, 2) - Math.Pow(front + length + _assumed.FrontOverhang, 2);
        var middle = corner > 0 ? Math.Sqrt(corner) - _assumed.Width / 2 : 0;
        if (middle <= 0) return new Turn.TooTight(0);
        Slip(powered, rear, (front + length, middle));
        return Trailers(ring, (Math.Sqrt(middle * middle + length * length), length * length), (front + length, middle));
    }

    /// <summary>From the axle line of the powered unit on: each trailer swings about the coupling ahead of it.</summary>
    private Turn Trailers(TurningRing ring, (double Radius, double Squares) first, (double Line, double Radius) at)
    {
        var (innermost, squares, cut) = (at.Radius, first.Squares, first.Radius - at.Radius);
        for (var b = 1; b < _combination.Bodies.Length; b++)
        {
            var body = _combination.Bodies[b];
            var swing = _combination.Bodies[b - 1].Vehicle.RearCoupling!.Position.Metres - at.Line;
            if (Chain(body) is not { } chain) return new Turn.NoFixedAxle(b);
            squares += chain.Squares - swing * swing;
            if (OffTracking.Metres(first.Radius, squares) is not { } inside) return new Turn.TooTight(b);
            cut = inside;
            at = (chain.Line, first.Radius - cut);
            Slip(body, Fixed(body, body.Vehicle.Front), at);
            innermost = Math.Min(innermost, at.Radius);
        }

        var inner = innermost - _assumed.Width / 2;
        return inner <= 0 ? new Turn.TooTight(_combination.Bodies.Length - 1)
            : new Turn.Round(inner, ring.Outer - inner, cut, inner - ring.Inner, _slips.ToImmutable());
    }

    /// <summary>From a trailer's coupling to its line of fixed axles: one wheelbase, or drawbar and wheelbase; where that line is, and the squares of both.</summary>
    private (double Line, double Squares)? Chain(BodyPart body)
    {
        double pivot = 0, squares = 0;
        if (body.Vehicle.Front is { } turntable)
        {
            ImmutableArray<int> turning = [.. turntable.Axles.Where(i => OnRoad(body, i))];
            if (turning.IsEmpty) return null;
            pivot = turning.Average(i => At(body, i));
            squares = Math.Pow(Length(turning, body, 0), 2);
        }

        if (Fixed(body, body.Vehicle.Front) is not { Length: > 0 } rear) return null;
        var length = Length(rear, body, pivot);
        return (pivot + length, squares + length * length);
    }

    private double Length(IReadOnlyCollection<int> axles, BodyPart body, double from)
    {
        double[] places = [.. axles.Select(i => At(body, i))];
        return EquivalentWheelbase.Metres(places.Average() - from, EquivalentWheelbase.Spread(places), _assumed.StiffnessRatio);
    }

    private void Slip(BodyPart body, IEnumerable<int> axles, (double Line, double Radius) at)
    {
        foreach (var i in axles)
            _slips.Add(new(body.FirstAxle + i, At(body, i) - at.Line, OffTracking.Slip(At(body, i) - at.Line, at.Radius)));
    }

    private ImmutableArray<int> Fixed(BodyPart body, AxleGroup? front) => [.. Enumerable.Range(0, body.Vehicle.Axles.Length)
        .Where(i => OnRoad(body, i) && body.Vehicle.Axles[i].Steering == Steering.None && front?.Axles.Contains(i) != true)];

    private bool OnRoad(BodyPart body, int axle) => _configuration[body.FirstAxle + axle] != AxleState.Raised;

    private static double At(BodyPart body, int axle) => body.Vehicle.Axles[axle].Position.Metres;
}
