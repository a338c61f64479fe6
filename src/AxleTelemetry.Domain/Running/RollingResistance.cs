using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Running;

/// <summary>
/// What an axle's turning costs: rolling resistance of its tyres, which falls a little less than in proportion when the
/// same weight rolls on fewer tyres, and the drag of its hubs and brakes.
/// </summary>
public static class RollingResistance
{
    /// <summary>Exponent of load: 0.9, Regulation (EU) 2017/2400. With 1 lifting an axle would save nothing.</summary>
    public const double Beta = 0.9;

    /// <summary>Load at which the coefficient is stated, as a fraction of the tyres' capacity: Regulation (EU) 2017/2400.</summary>
    public const double ReferenceFraction = 0.85;

    /// <summary>Drag of hubs and residual brake of a turning axle, N; sd 20. Common practice.</summary>
    public const double HubDragNewtons = 40;

    /// <summary>Tank to wheel efficiency of a diesel driveline. Common practice.</summary>
    public const double Efficiency = 0.40;

    /// <summary>Energy of a litre of diesel, MJ: 43.0 MJ/kg (IPCC 2006) times 0.832 kg/l.</summary>
    public const double MegajoulesPerLitre = 43.0 * 0.832;

    /// <summary>Coefficient of rolling resistance at a load, N/N.</summary>
    public static double Coefficient(Tyres tyres, double kilograms) => Coefficient(tyres, kilograms, RunningRules.Default);

    /// <summary>Coefficient of rolling resistance at a load by other numbers than the defaults, N/N.</summary>
    public static double Coefficient(Tyres tyres, double kilograms, RunningRules rules) => kilograms <= 0 ? 0
        : tyres.RollingResistance / 1000 * Math.Pow(kilograms / (rules.ReferenceFraction * tyres.Capacity.Kilograms), rules.Beta - 1);

    /// <summary>Rolling resistance of an axle's tyres, N, without hubs and brakes.</summary>
    public static double Newtons(Tyres tyres, double kilograms) => Newtons(tyres, kilograms, RunningRules.Default);

    /// <summary>Rolling resistance of an axle's tyres by other numbers than the defaults, N, without hubs and brakes.</summary>
    public static double Newtons(Tyres tyres, double kilograms, RunningRules rules) =>
        Coefficient(tyres, kilograms, rules) * Math.Max(kilograms, 0) * Motion.Gravity;

    /// <summary>Litres of diesel that a steady force costs on 100 km.</summary>
    public static double LitresPer100Km(double newtons) => newtons * 100_000 / (Efficiency * MegajoulesPerLitre * 1e6);
}

/// <summary>What the axles of one configuration cost to roll.</summary>
/// <param name="TyreNewtons">Rolling resistance of all tyres on the road, N.</param>
/// <param name="TurningAxles">Axles on the road.</param>
public readonly record struct RollingCost(double TyreNewtons, int TurningAxles)
{
    /// <summary>Force with hub and brake drag, N.</summary>
    public double Newtons => TyreNewtons + TurningAxles * RollingResistance.HubDragNewtons;

    /// <summary>Cost of a configuration at a payload state.</summary>
    public static RollingCost Of(Combination combination, LoadMap map, ReadOnlySpan<double> state)
    {
        double force = 0;
        var turning = 0;
        foreach (var part in combination.Axles)
        {
            if (map.Configuration[part.Index] == AxleState.Raised) continue;
            force += RollingResistance.Newtons(part.Axle.Tyres, map.Load(part.Index, state));
            turning++;
        }

        return new RollingCost(force, turning);
    }
}
