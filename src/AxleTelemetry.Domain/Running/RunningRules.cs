namespace AxleTelemetry.Domain.Running;

/// <summary>The numbers by which loads on a road become work. <see cref="Assumptions.Rules"/> gives them from the file, with their status.</summary>
public sealed record RunningRules
{
    /// <summary>The shipped values.</summary>
    public static RunningRules Default { get; } = new();

    /// <summary>Exponent of load in rolling resistance. With 1 the same weight rolls as hard on any number of tyres.</summary>
    public double Beta { get; init; } = RollingResistance.Beta;

    /// <summary>Load at which the tyres' coefficient is stated, as a fraction of their capacity.</summary>
    public double ReferenceFraction { get; init; } = RollingResistance.ReferenceFraction;

    /// <summary>Drag of hubs and residual brake of a turning axle, N. Only traction is reckoned with it here; valuing counts it anew.</summary>
    public double HubDragNewtons { get; init; } = RollingResistance.HubDragNewtons;

    /// <summary>Side force of tyres per slip angle and load, N/(rad kg). Linear: near the limit of grip, above about 6 degrees, it says too much.</summary>
    public double SlipStiffnessPerKilogram { get; init; } = 55;

    /// <summary>Drag coefficient times frontal area of a combination that states none, m2.</summary>
    public double AirAreaSquareMetres { get; init; } = 5.5;

    /// <summary>Speed to reckon with where none is known, m/s. 80 km/h.</summary>
    public double RoadSpeed { get; init; } = 80 / 3.6;

    /// <summary>Speed above which self-steering axles are locked, m/s. 25 km/h.</summary>
    public double SelfSteeringLocksAbove { get; init; } = 25 / 3.6;
}
