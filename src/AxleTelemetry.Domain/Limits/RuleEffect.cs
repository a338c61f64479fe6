using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Limits;

/// <summary>
/// What a rule does with its figure. Of all that fit one axle, group, vehicle or combination the greatest permit holds
/// (an act grants more where a condition is met), additions come on top, and no cap may be passed.
/// </summary>
public abstract record RuleEffect
{
    private RuleEffect() { }

    /// <summary>Permits up to a mass.</summary>
    public sealed record Permit(Mass Most) : RuleEffect;

    /// <summary>Whatever else permits more: never above this mass.</summary>
    public sealed record Cap(Mass Most) : RuleEffect;

    /// <summary>Never above this many kg per metre between the vehicle's outermost axles on the road.</summary>
    public sealed record CapPerMetre(double KilogramsPerMetre) : RuleEffect;

    /// <summary>Adds the mass of the drive's technology, up to a mass.</summary>
    public sealed record Add(Mass UpTo, DriveEnergyKind Energy) : RuleEffect;
}
