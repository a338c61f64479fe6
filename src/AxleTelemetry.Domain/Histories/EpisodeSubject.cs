using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Histories;

/// <summary>What an episode's row holds beyond its key: enough for a register.</summary>
public abstract record EpisodeSubject
{
    private EpisodeSubject() { }

    /// <summary>Nothing more.</summary>
    public sealed record Plain : EpisodeSubject;

    /// <summary>A limit with the excess over it.</summary>
    public sealed record Limit : EpisodeSubject
    {
        /// <summary>The limit as people know it: 11 500 (kg), or 0.25 for a share.</summary>
        public required double Value { get; init; }

        /// <summary>The limit in kg when the episode opened: itself for a mass, the share of the mass of that moment for a share.</summary>
        public required double Scale { get; init; }

        /// <summary>What passing it means.</summary>
        public required MarginStanding Standing { get; init; }

        /// <summary>Where it comes from.</summary>
        public required LimitSource Source { get; init; }

        /// <summary>What must be known beside it; may be empty.</summary>
        public required string Note { get; init; }

        /// <summary>What was on the limited thing when the episode opened, kg.</summary>
        public required Estimated Load { get; init; }

        /// <summary>Excess when it opened, kg.</summary>
        public required Estimated Opening { get; init; }

        /// <summary>Greatest excess, kg.</summary>
        public required Estimated Peak { get; init; }

        /// <summary>When the excess was greatest.</summary>
        public required Moment PeakAt { get; init; }
    }

    /// <summary>An axle was down for nothing.</summary>
    /// <param name="Raised">Axles that should have been raised.</param>
    /// <param name="TyreNewtons">Rolling resistance that it cost, N.</param>
    /// <param name="HubNewtons">Hub and brake drag that it cost, N.</param>
    public sealed record Idle(ImmutableArray<int> Raised, double TyreNewtons, double HubNewtons) : EpisodeSubject;

    /// <summary>Automatic lowering did not act: how likely it was each of three things.</summary>
    /// <param name="Mechanism">It really did not act.</param>
    /// <param name="Calibration">The loads were estimated too high.</param>
    /// <param name="LiftState">The axle was not raised.</param>
    public sealed record DidNotAct(double Mechanism, double Calibration, double LiftState) : EpisodeSubject;

    /// <summary>A number with what it is.</summary>
    /// <param name="Value">The number.</param>
    /// <param name="Unit">Its unit.</param>
    public sealed record Measured(double Value, string Unit) : EpisodeSubject;
}
