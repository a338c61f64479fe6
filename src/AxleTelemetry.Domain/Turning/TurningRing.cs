using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Turning;

/// <summary>The ring within which a vehicle must be able to turn.</summary>
/// <param name="Outer">Radius that its outermost point follows, m.</param>
/// <param name="Inner">Radius that no part of it may come within, m.</param>
public readonly record struct TurningRing(double Outer, double Inner)
{
    /// <summary>Council Directive 96/53/EC, Annex I, 1.5: outer radius 12.50 m, inner 5.30 m.</summary>
    public static TurningRing Directive { get; } = new(12.50, 5.30);
}

/// <summary>What a bend needs and a vehicle's description need not hold.</summary>
/// <param name="FrontOverhang">From the first axle forward to the front corners, m.</param>
/// <param name="Width">Width of every vehicle, m.</param>
/// <param name="StiffnessRatio">Cornering stiffness of the rear tyres over that of the front ones.</param>
public readonly record struct TurningAssumptions(double FrontOverhang, double Width, double StiffnessRatio)
{
    /// <summary>Overhang 1.40 m and equal stiffness: common practice. Width 2.55 m: the greatest of Directive 96/53/EC, Annex I, 1.2.</summary>
    public static TurningAssumptions Usual { get; } = new(1.40, 2.55, EquivalentWheelbase.UsualStiffnessRatio);

    /// <summary>What the descriptions hold, and the usual where they do not: the overhang of the powered unit, the width of the widest.</summary>
    public static TurningAssumptions Of(Combination combination) => Usual with
    {
        FrontOverhang = combination.Vehicles[0].FrontOverhang?.Metres ?? Usual.FrontOverhang,
        Width = combination.Vehicles.Max(v => v.Width?.Metres) ?? Usual.Width,
    };
}
