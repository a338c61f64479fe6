using System.Collections.Immutable;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Domain.Turning;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Service.Planning;

/// <summary>What shall be planned, names looked up and ranges checked.</summary>
internal sealed record PlanOrder
{
    /// <summary>The vehicles with their limits.</summary>
    public required LaneSetup Setup { get; init; }

    /// <summary>Whose payload the diagram varies.</summary>
    public required BodyPart Body { get; init; }

    /// <summary>The load of all bodies before the first drop.</summary>
    public required PayloadEstimate Payload { get; init; }

    /// <summary>What is known of the errors.</summary>
    public required KnownErrors Known { get; init; }

    /// <summary>Where the load of <see cref="Body"/> comes from.</summary>
    public required PlanSource Source { get; init; }

    /// <summary>What is taken off <see cref="Body"/>, in this order.</summary>
    public required ImmutableArray<Drop> Drops { get; init; }

    /// <summary>What a bend needs that the descriptions do not hold.</summary>
    public required TurningAssumptions Turning { get; init; }

    /// <summary>By which limits, in a sentence.</summary>
    public required string Limits { get; init; }

    public Combination Combination => Setup.Combination;
}

/// <summary>Where a load comes from.</summary>
internal abstract record PlanSource
{
    private PlanSource() { }

    /// <summary>Nobody states it: the vehicle empty.</summary>
    public sealed record Empty : PlanSource;

    /// <summary>Somebody states it.</summary>
    public sealed record Stated : PlanSource;

    /// <summary>All the items that are dropped.</summary>
    public sealed record Items : PlanSource;

    /// <summary>Inferred from what the vehicle sends.</summary>
    /// <param name="Worth">What it is worth, in words.</param>
    /// <param name="Present">How the axles stand now.</param>
    public sealed record Live(string Worth, Configuration Present) : PlanSource;
}
