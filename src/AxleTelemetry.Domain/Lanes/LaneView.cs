using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Places;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>
/// What a lane knows at its latest reading, for people to look at: built on demand by <see cref="LaneViewing.View"/>, holds
/// nothing of the lane's own state.
/// </summary>
public sealed record LaneView
{
    /// <summary>The latest reading; <c>null</c> before the first.</summary>
    public required Moment? At { get; init; }

    /// <summary>The vehicles.</summary>
    public required Combination Combination { get; init; }

    /// <summary>How it moves.</summary>
    public required Movement Movement { get; init; }

    /// <summary>What every axle is doing.</summary>
    public required Configuration Configuration { get; init; }

    /// <summary>What the figures are worth.</summary>
    public required LoadStanding Standing { get; init; }

    /// <summary>When the figures were measured; <c>null</c> where there never were any.</summary>
    public required Moment? MeasuredAt { get; init; }

    /// <summary>The axles, front to rear through the combination.</summary>
    public required ImmutableArray<AxleView> Axles { get; init; }

    /// <summary>All that stands on the road; <c>null</c> where no figures are given.</summary>
    public required LimitedLoad? Gross { get; init; }

    /// <summary>Payload of each body that carries one; empty where no figures are given.</summary>
    public required ImmutableArray<PayloadView> Payloads { get; init; }

    /// <summary>Why figures are withheld or of an earlier moment; empty where they hold.</summary>
    public required ImmutableArray<Withheld> Withheld { get; init; }

    /// <summary>Episodes that are open, in the order of the catalogue.</summary>
    public required ImmutableArray<OpenFinding> Open { get; init; }

    /// <summary>Where it was last; <c>null</c> where no position was known.</summary>
    public Place? Place { get; init; }

    /// <summary>Which country's limits hold.</summary>
    public Whereabouts Whereabouts { get; init; }

    /// <summary>Permits that hold here, and those that speed has broken.</summary>
    public PermitsInForce Permits { get; init; } = PermitsInForce.None;

    /// <summary>Near a border: limits of law that are others on its other side; empty elsewhere, and where no figures are given.</summary>
    public ImmutableArray<DifferingLaw> Differing { get; init; } = [];

    /// <summary>Seconds from the measurement of the figures to the latest reading; <c>null</c> where there are none.</summary>
    public double? AgeSeconds => At is { } at && MeasuredAt is { } measured ? at.SecondsSince(measured) : null;
}

/// <summary>A limit of law that is another across a border.</summary>
/// <param name="Here">On this side, judged; <c>null</c> where there is none.</param>
/// <param name="Across">On the other side, judged; <c>null</c> where there is none.</param>
public readonly record struct DifferingLaw(Verdict? Here, Verdict? Across);

/// <summary>One axle as a lane sees it.</summary>
/// <param name="Part">The axle.</param>
/// <param name="State">What it is doing.</param>
/// <param name="Basis">What its figure rests on.</param>
/// <param name="Load">Its load with the limit that is closest; <c>null</c> where no figures are given, or raised.</param>
public sealed record AxleView(AxlePart Part, AxleState State, LoadBasis Basis, LimitedLoad? Load)
{
    /// <summary>Why it is said to stand so, though it may cost; <see cref="LiftReason.None"/> where nobody says.</summary>
    public LiftReason Reason { get; init; } = LiftReason.None;
}

/// <summary>A load beside the limit that is closest to it.</summary>
/// <param name="Load">The load, kg.</param>
/// <param name="Closest">That limit, judged; <c>null</c> where nothing limits it.</param>
public readonly record struct LimitedLoad(Estimated Load, Verdict? Closest);

/// <summary>What is aboard of one body.</summary>
/// <param name="Body">The body.</param>
/// <param name="Load">Payload, kg; its mean is never below zero here.</param>
public readonly record struct PayloadView(BodyPart Body, Estimated Load);

/// <summary>An open episode.</summary>
/// <param name="Key">What was found.</param>
/// <param name="Level">Level it has.</param>
/// <param name="Since">When it began.</param>
public readonly record struct OpenFinding(FindingKey Key, Level Level, Moment Since);

/// <summary>What a lane's figures are worth.</summary>
public enum LoadStanding
{
    /// <summary>None are given: nothing was measured yet, or they are withheld.</summary>
    None,

    /// <summary>Measured standing after a stop that may have changed the load: to be settled by rolling.</summary>
    Provisional,

    /// <summary>Measured rolling; they hold.</summary>
    Settled,

    /// <summary>Measured rolling before a stop that may have changed the load: to be shown with their age.</summary>
    Earlier,
}

/// <summary>What the figure of an axle rests on.</summary>
public enum LoadBasis
{
    /// <summary>A sensor on a circuit of its own.</summary>
    OwnSensor,

    /// <summary>A sensor on a circuit that several axles share.</summary>
    SharedCircuit,

    /// <summary>A sensor that feels one side only.</summary>
    OneSide,

    /// <summary>Sensors of other axles.</summary>
    Inferred,

    /// <summary>An axle of a trailer that nobody described: where it stands, and that there is one, is a stated default.</summary>
    Assumed,
}

/// <summary>Why figures are withheld, or shown as those of an earlier moment.</summary>
public enum Withheld
{
    /// <summary>Nothing was measured yet.</summary>
    NothingMeasured,

    /// <summary>A stop may have changed the load, and nothing was measured rolling since.</summary>
    LoadMayHaveChanged,

    /// <summary>A power take-off, tail-lift, outrigger or raised body is in use.</summary>
    BodyAtWork,

    /// <summary>Suspension not at driving height, or no air in the bellows.</summary>
    SuspensionOff,

    /// <summary>The vehicle is carried: a ferry, a train, a recovery truck.</summary>
    Carried,

    /// <summary>The reported configuration is not possible with this load.</summary>
    ConfigurationImpossible,

    /// <summary>Another vehicle claims a trailer that this one says hangs on it: no gross is given.</summary>
    TrailerClaimedTwice,
}
