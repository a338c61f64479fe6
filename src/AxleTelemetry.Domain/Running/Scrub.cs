using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Running;

/// <summary>
/// Where unsteered axles stand from the centre about which their body turns: what they slip by in a bend. The centre is the mean of
/// their places weighted by load, as side stiffness goes with load.
/// </summary>
public static class Scrub
{
    /// <summary>Distance of an axle behind its turning centre, m; 0 for one that is raised, steered or alone.</summary>
    /// <param name="unit">What rolls.</param>
    /// <param name="axle">The axle.</param>
    /// <param name="kilograms">Load of every axle.</param>
    /// <param name="speed">m/s: self-steering axles follow a bend below the speed at which they lock.</param>
    public static double Offset(in RollingUnit unit, AxlePart axle, ReadOnlySpan<double> kilograms, double speed)
    {
        if (!Slips(unit, axle, speed)) return 0;
        var body = unit.Combination.Bodies[axle.Body];
        var turntable = OnTurntable(body, axle);
        double weight = 0, moment = 0;
        for (var i = body.FirstAxle; i < body.FirstAxle + body.Vehicle.Axles.Length; i++)
        {
            var other = unit.Combination.Axles[i];
            if (!Slips(unit, other, speed) || OnTurntable(body, other) != turntable) continue;
            weight += Math.Max(kilograms[i], 0);
            moment += Math.Max(kilograms[i], 0) * other.Axle.Position.Metres;
        }

        return weight > 0 ? axle.Axle.Position.Metres - moment / weight : 0;
    }

    /// <summary>Slip angle, rad, of an axle so far from its turning centre in a bend of a radius.</summary>
    public static double SlipAngle(double offsetMetres, double radiusMetres) => Math.Atan(offsetMetres / radiusMetres);

    private static bool Slips(in RollingUnit unit, AxlePart part, double speed) =>
        unit.Configuration[part.Index] != AxleState.Raised && part.Axle.Role != AxleRole.Steer && part.Axle.Steering switch
        {
            Steering.None => true,
            Steering.Steered => false,
            Steering.SelfSteering => speed > unit.Rules.SelfSteeringLocksAbove,
            _ => throw new ArgumentOutOfRangeException(nameof(part), part.Axle.Steering, "Unknown steering."),
        };

    // The axles under a turntable turn with it: a body of their own.
    private static bool OnTurntable(BodyPart body, AxlePart axle) =>
        body.Vehicle is { Kind: VehicleKind.DrawbarTrailer, Front: { } front } && front.Axles.Contains(axle.Index - body.FirstAxle);
}
