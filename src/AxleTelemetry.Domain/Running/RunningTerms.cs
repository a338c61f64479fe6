using AxleTelemetry.Domain.RoadWear;

namespace AxleTelemetry.Domain.Running;

/// <summary>By what a lane reckons running cost: how work follows from loads, what it costs, and from what cost on something is said.</summary>
public sealed record RunningTerms
{
    /// <summary>How loads on a road become work.</summary>
    public required RunningRules Rules { get; init; }

    /// <summary>What work costs, for comparing configurations.</summary>
    public required WorkPrice Price { get; init; }

    /// <summary>The road that is worn.</summary>
    public Pavement Pavement { get; init; } = new();

    /// <summary>Money per 100 km from which on an axle that stands otherwise than it should is told of. Default 0.20.</summary>
    public double ToldFrom { get; init; } = 0.20;

    /// <summary>Currency of the prices, ISO 4217; empty where no prices are set.</summary>
    public string Currency { get; init; } = "";

    /// <summary>By given assumptions.</summary>
    public static RunningTerms By(Assumptions assumptions) =>
        new() { Rules = assumptions.Rules, Price = WorkPrice.By(assumptions), Currency = assumptions.Currency };

    /// <summary>Where no prices are set: rolling and hubs at one unit of money a litre, nothing for tyres.</summary>
    public static RunningTerms Unpriced { get; } = new()
    {
        Rules = RunningRules.Default,
        Price = new WorkPrice(PerJoule, PerJoule * RollingResistance.HubDragNewtons, PerJoule, 0),
    };

    private const double PerJoule = 1 / (RollingResistance.Efficiency * RollingResistance.MegajoulesPerLitre * 1e6);
}
