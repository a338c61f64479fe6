using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.LoadSheets;

/// <summary>The answer: every load in every lift configuration, judged, with what can be done and how far it may be trusted.</summary>
internal sealed record LoadSheet
{
    public required VehicleInput Input { get; init; }

    public required LoadOrder Order { get; init; }

    public required LoadInHand Hand { get; init; }

    /// <summary>Payload of each body that carries, in their order.</summary>
    public required ImmutableArray<PayloadLine> Payloads { get; init; }

    /// <summary>The present configuration first, then every other way the lifts can stand.</summary>
    public required ImmutableArray<ConfigurationSheet> Configurations { get; init; }

    /// <summary>What ends what is over, best first.</summary>
    public required ImmutableArray<Remedy> Remedies { get; init; }

    /// <summary>The least certain judged thing and where its uncertainty comes from; <c>null</c> where nothing is uncertain.</summary>
    public required LeastCertain? LeastCertain { get; init; }

    /// <summary>What the sensors can tell and what not; empty for a stated payload.</summary>
    public required ImmutableArray<string> Knowledge { get; init; }

    /// <summary>Further things to look at: passed-over pressures, an implausible payload.</summary>
    public required ImmutableArray<string> Remarks { get; init; }

    public ConfigurationSheet Present => Configurations[0];

    public bool IsStated => Order.Load is LoadSource.Stated;

    /// <summary>Something other than a rule of the house is likely or surely passed.</summary>
    public bool IsOver => Present.Rows.SelectMany(r => r.Judged).Any(j => j.IsOver);
}

/// <summary>Payload of one body.</summary>
/// <param name="Body">The body.</param>
/// <param name="Mass">Mass, kg; not clipped.</param>
/// <param name="CentreMetres">Its centre along the body; <c>null</c> where there is next to nothing.</param>
/// <param name="Known">How the mass is known.</param>
internal sealed record PayloadLine(BodyPart Body, Estimated Mass, double? CentreMetres, Knowledge Known);

/// <summary>All loads in one configuration.</summary>
/// <param name="Configuration">How the axles stand.</param>
/// <param name="IsPossible">False where a suspension would have to pull: then there are no rows.</param>
/// <param name="Rows">Axles, groups, gross, shares, couplings.</param>
/// <param name="Unlimited">What no table limits, in words.</param>
internal sealed record ConfigurationSheet(Configuration Configuration, bool IsPossible, ImmutableArray<LoadRow> Rows, ImmutableArray<string> Unlimited);

/// <summary>One thing that carries, with every limit on it.</summary>
internal sealed record LoadRow
{
    public required string Name { get; init; }

    /// <summary>Axle counted through the combination; -1 for everything else.</summary>
    public required int Axle { get; init; }

    /// <summary>A coupling: its load may come out below zero.</summary>
    public required bool MayPull { get; init; }

    /// <summary>What an axle is doing.</summary>
    public required AxleState State { get; init; }

    /// <summary>Load, kg; of a share the load that counts.</summary>
    public required Estimated Load { get; init; }

    public required Knowledge Known { get; init; }

    /// <summary>Every limit on it, the most pressing first; may be empty.</summary>
    public required ImmutableArray<JudgedLimit> Judged { get; init; }

    /// <summary>A part of a mass and no mass itself.</summary>
    public bool IsShare => Judged.Any(j => j.Verdict.Margin.Key.Kind is MarginKind.DrivingShare or MarginKind.SteeringShare);
}

/// <summary>One limit, judged.</summary>
/// <param name="Verdict">Limit and excess.</param>
/// <param name="Level">How sure it is that it is passed, capped where only one side is sensed.</param>
internal sealed record JudgedLimit(Verdict Verdict, Level Level)
{
    public bool CannotTell => Verdict.CannotTell;

    public bool IsOver => Verdict.Binds && Level >= Level.Likely && !CannotTell;
}

/// <summary>The least certain judged thing.</summary>
/// <param name="Row">The thing.</param>
/// <param name="Sources">Where its uncertainty comes from and which part of the variance, greatest first.</param>
internal sealed record LeastCertain(LoadRow Row, ImmutableArray<(string Words, double Part)> Sources);
