using System.Collections.Immutable;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Places;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Findings;

/// <summary>What a lane has to say after an input.</summary>
public abstract record LaneOutput(Moment At)
{
    /// <summary>An episode of a finding began, changed or ended.</summary>
    /// <param name="At">When.</param>
    /// <param name="Key">What was found.</param>
    /// <param name="Change">What happened to the episode.</param>
    /// <param name="Level">Level it has now.</param>
    /// <param name="Since">When it began.</param>
    /// <param name="Detail">What belongs to the kind of finding.</param>
    public sealed record Episode(Moment At, FindingKey Key, EpisodeChange Change, Level Level, Moment Since, FindingDetail Detail) : LaneOutput(At)
    {
        /// <summary>Other limits that the same load passes at the same moment, told with this one; empty for those that are told with another.</summary>
        public ImmutableArray<Verdict> Also { get; init; } = [];

        /// <summary>The finding this one is told with; <c>null</c> where it is told by itself.</summary>
        public FindingKey? ToldWith { get; init; }
    }

    /// <summary>While loading: a limit would be passed with what is aboard now, as far as a standing vehicle can tell.</summary>
    public sealed record Provisional(Moment At, FindingKey Key, Level Level, FindingDetail.Excess Detail) : LaneOutput(At)
    {
        /// <summary>Other limits that the same load would pass, told with this one.</summary>
        public ImmutableArray<Verdict> Also { get; init; } = [];

        /// <summary>The finding this one is told with; <c>null</c> where it is told by itself.</summary>
        public FindingKey? ToldWith { get; init; }
    }

    /// <summary>A load began.</summary>
    /// <param name="At">Settled reading that decided it.</param>
    /// <param name="Since">The stop it began at.</param>
    /// <param name="Payload">Payload of all vehicles together after that reading, kg.</param>
    public sealed record LoadBegan(Moment At, Moment Since, Estimated Payload) : LaneOutput(At);

    /// <summary>A stop changed nothing: the load before it goes on.</summary>
    public sealed record LoadGoesOn(Moment At) : LaneOutput(At);

    /// <summary>The running account so far: it takes the place of what was told of the same period before.</summary>
    /// <param name="At">Up to when.</param>
    /// <param name="Since">When the period began: a day (UTC), or the moment vehicles were coupled within it.</param>
    /// <param name="Unit">What the whole unit's road added up to.</param>
    /// <param name="Axles">What each axle went through.</param>
    public sealed record Accounted(Moment At, Moment Since, UnitTally Unit, ImmutableArray<AxleTally> Axles) : LaneOutput(At);

    /// <summary>The configuration changed.</summary>
    public sealed record Configured(Moment At, Configuration Configuration) : LaneOutput(At);
}

/// <summary>What belongs to a finding beyond its key.</summary>
public abstract record FindingDetail
{
    private FindingDetail() { }

    /// <summary>Nothing more to say.</summary>
    public sealed record None : FindingDetail;

    /// <summary>A limit with its excess and what would end it.</summary>
    /// <param name="Verdict">Limit and excess.</param>
    /// <param name="Load">What is on the limited thing, kg; for a share the driving or steered load.</param>
    /// <param name="Remedies">What would end it, best first.</param>
    public sealed record Excess(Verdict Verdict, Estimated Load, ImmutableArray<Remedy> Remedies) : FindingDetail
    {
        /// <summary>The country whose limit it is, where it is that across a border ahead; otherwise none.</summary>
        public Country Across { get; init; }
    }

    /// <summary>An axle is down for nothing.</summary>
    /// <param name="Raised">Axles that should be raised.</param>
    /// <param name="TyreNewtons">Rolling resistance that it costs, N.</param>
    /// <param name="HubNewtons">Hub and brake drag that it costs, N.</param>
    /// <param name="Tightest">The limit that is closest with them raised.</param>
    public sealed record Idle(ImmutableArray<int> Raised, double TyreNewtons, double HubNewtons, Verdict Tightest) : FindingDetail;

    /// <summary>Automatic lowering did not act: how likely it is each of three things.</summary>
    /// <param name="Mechanism">It really did not act.</param>
    /// <param name="Calibration">The loads are estimated too high.</param>
    /// <param name="LiftState">The axle is not raised, whatever is reported.</param>
    public sealed record DidNotAct(double Mechanism, double Calibration, double LiftState) : FindingDetail;

    /// <summary>A number with what it is.</summary>
    /// <param name="Value">The number.</param>
    /// <param name="Unit">Its unit.</param>
    public sealed record Measured(double Value, string Unit) : FindingDetail;
}
