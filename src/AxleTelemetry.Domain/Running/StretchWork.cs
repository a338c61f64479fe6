using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Running;

/// <summary>
/// Work of every axle on a level road at a steady speed: rolling, scrub in bends, and what wears the treads. Grades, starts and
/// brakes are left out: they belong to the gross mass, which no lift changes.
/// </summary>
public static class StretchWork
{
    /// <summary>
    /// Wear of a tyre that rolls free, as tread energy, N: C0tc / Ctcte of HDM-4's TWT = C0tc + Ctcte TE, dm3 per 1 000 km. Heavy truck
    /// 0.03529 / 0.00275, articulated 0.03988 / 0.00311 (from memory): the same within 0.1 %.
    /// </summary>
    public const double FreeRollingTread = 12.83;

    /// <summary>Work of each axle per metre. Allocates nothing.</summary>
    /// <param name="unit">What rolls.</param>
    /// <param name="kilograms">Load of every axle, front to rear; more rows are ignored, less than zero counts as zero.</param>
    /// <param name="driving">How it is driven.</param>
    /// <param name="axles">Gets the work of every axle of the combination.</param>
    public static void PerMetre(in RollingUnit unit, ReadOnlySpan<double> kilograms, in Driving driving, Span<AxleWork> axles)
    {
        var resistance = Air(unit, driving.Speed);
        double driven = 0;
        foreach (var part in unit.Combination.Axles)
        {
            var work = Rolling(unit, part, kilograms[part.Index]);
            var offset = Scrub.Offset(unit, part, kilograms, driving.Speed);
            var scrub = Stiffness(unit, kilograms[part.Index], work.Turns) * offset * offset * driving.Bends.Squared;
            axles[part.Index] = work with { ScrubNewtons = scrub };
            resistance += work.TyreNewtons + scrub + (work.Turns ? unit.Rules.HubDragNewtons : 0);
            if (part.Axle.Role == AxleRole.Drive && work.Turns) driven += Math.Max(kilograms[part.Index], 0);
        }

        foreach (var part in unit.Combination.Axles)
        {
            var along = part.Axle.Role == AxleRole.Drive && driven > 0
                ? resistance * Math.Max(kilograms[part.Index], 0) / driven
                : axles[part.Index].TyreNewtons;
            var offset = Scrub.Offset(unit, part, kilograms, driving.Speed);
            axles[part.Index] = axles[part.Index] with { TreadNewtons = Tread(unit, part, new(along, offset, kilograms[part.Index]), driving.Bends) };
        }
    }

    /// <summary>All axles over a distance.</summary>
    public static RoadWork Sum(ReadOnlySpan<AxleWork> axles, double metres)
    {
        var sum = new RoadWork();
        foreach (var axle in axles) sum += axle.Over(metres);
        return sum with { Metres = metres };
    }

    private static AxleWork Rolling(in RollingUnit unit, AxlePart part, double kilograms) => unit.Configuration[part.Index] == AxleState.Raised
        ? default
        : new AxleWork(RollingResistance.Newtons(part.Axle.Tyres, kilograms, unit.Rules), 0, 0, true);

    private static double Air(in RollingUnit unit, double speed)
    {
        double area = 0;
        foreach (var vehicle in unit.Combination.Vehicles) area += vehicle.Drag.AreaSquareMetres;
        return 0.5 * Motion.AirDensity * (area > 0 ? area : unit.Rules.AirAreaSquareMetres) * speed * speed;
    }

    private static double Stiffness(in RollingUnit unit, double kilograms, bool turns) =>
        turns ? unit.Rules.SlipStiffnessPerKilogram * Math.Max(kilograms, 0) : 0;

    /// <summary>
    /// HDM-4's tread energy (CFT2 + LFT2) / NFT summed over an axle's tyres: their number falls out, as each carries its part of force and
    /// load. To the side a tyre pushes what keeps its load in the bend, and what its slip asks: load (v2 + c d) / R.
    /// </summary>
    private static double Tread(in RollingUnit unit, AxlePart part, Push push, Bends bends)
    {
        if (unit.Configuration[part.Index] == AxleState.Raised) return 0;
        var free = FreeRollingTread * part.Axle.Tyres.Count;
        if (push.Kilograms <= 0) return free;
        var slip = unit.Rules.SlipStiffnessPerKilogram * push.Offset;
        var side = bends.Lateral + 2 * slip * bends.WithSpeed + slip * slip * bends.Squared;
        return free + (push.Along * push.Along / push.Kilograms + side * push.Kilograms) / Motion.Gravity;
    }

    /// <summary>Force along the road, N; metres behind the turning centre; load.</summary>
    private readonly record struct Push(double Along, double Offset, double Kilograms);
}
