using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>
/// What a lane leaves behind. A function of the set of accepted samples, operator's actions and configuration versions in the
/// order of their moments; so is its encoding, byte by byte.
/// </summary>
/// <param name="Key">Identity.</param>
/// <param name="Touched">Moment of the input that last changed it.</param>
/// <param name="Members">The vehicles of the lane, powered one first, with the versions that held.</param>
public abstract record HistoryRow(RowKey Key, Moment Touched, ImmutableArray<LaneMember> Members)
{
    /// <summary>Loads at one moment.</summary>
    public sealed record Load(RowKey Key, Moment Touched, ImmutableArray<LaneMember> Members) : HistoryRow(Key, Touched, Members)
    {
        /// <summary>What the figures are worth.</summary>
        public required LoadStanding Standing { get; init; }

        /// <summary>How the vehicle moved.</summary>
        public required Movement Movement { get; init; }

        /// <summary>What every axle was doing.</summary>
        public required Configuration Configuration { get; init; }

        /// <summary>Load of each axle, front to rear, kg; <c>null</c> where none is given.</summary>
        public required ImmutableArray<Estimated?> Axles { get; init; }

        /// <summary>All that stood on the road, kg; <c>null</c> where no figures are given.</summary>
        public required Estimated? Gross { get; init; }

        /// <summary>Payload of each body that carries one, kg; empty where no figures are given.</summary>
        public required ImmutableArray<Estimated> Payloads { get; init; }

        /// <summary>Why figures are withheld or of an earlier moment.</summary>
        public required ImmutableArray<Withheld> Withheld { get; init; }

        /// <summary>Where it was last; <c>null</c> where no position was known.</summary>
        public required Place? Place { get; init; }
    }

    /// <summary>An episode of a finding.</summary>
    public sealed record Episode(RowKey Key, Moment Touched, ImmutableArray<LaneMember> Members) : HistoryRow(Key, Touched, Members)
    {
        /// <summary>When it was seen that it holds; <see cref="RowKey.At"/> says since when.</summary>
        public required Moment OpenedAt { get; init; }

        /// <summary>When it ended; <c>null</c> while it is open.</summary>
        public required Moment? ClosedAt { get; init; }

        /// <summary>Level it has now; clear once it ended.</summary>
        public required Level Level { get; init; }

        /// <summary>Highest level it had.</summary>
        public required Level Reached { get; init; }

        /// <summary>What every axle was doing when it opened.</summary>
        public required Configuration Configuration { get; init; }

        /// <summary>Where it opened; <c>null</c> where no position was known.</summary>
        public required Place? Place { get; init; }

        /// <summary>What belongs to the kind of finding.</summary>
        public required EpisodeSubject Subject { get; init; }
    }

    /// <summary>The running account of a period: a day (UTC), or the part of it in which the vehicles were together.</summary>
    /// <param name="Key">Identity; its moment is the period's beginning.</param>
    /// <param name="Touched">Up to when it was added.</param>
    /// <param name="Members">The vehicles.</param>
    /// <param name="Unit">What the whole unit's road added up to.</param>
    /// <param name="Axles">What each axle went through, front to rear.</param>
    public sealed record Account(RowKey Key, Moment Touched, ImmutableArray<LaneMember> Members, UnitTally Unit, ImmutableArray<AxleTally> Axles)
        : HistoryRow(Key, Touched, Members);

    /// <summary>A load that began.</summary>
    /// <param name="Key">Identity; its moment is that of the settled reading that decided it.</param>
    /// <param name="Touched">The same moment.</param>
    /// <param name="Members">The vehicles.</param>
    /// <param name="Since">The stop it began at.</param>
    /// <param name="Payload">Payload of all vehicles together after that reading, kg.</param>
    public sealed record LoadBegun(RowKey Key, Moment Touched, ImmutableArray<LaneMember> Members, Moment Since, Estimated Payload) : HistoryRow(Key, Touched, Members);

    /// <summary>Trailers left the unit: what was known to be aboard of them, for whoever takes them next.</summary>
    /// <param name="Key">Identity; its moment is when they were parted.</param>
    /// <param name="Touched">The same moment.</param>
    /// <param name="Members">The vehicles that were together until then.</param>
    /// <param name="Trailers">Those that left, and of which anything is known; never empty.</param>
    public sealed record Parted(RowKey Key, Moment Touched, ImmutableArray<LaneMember> Members, ImmutableArray<PartedTrailer> Trailers) : HistoryRow(Key, Touched, Members);
}

/// <summary>A place on the earth.</summary>
/// <param name="Latitude">Degrees north, WGS 84.</param>
/// <param name="Longitude">Degrees east, WGS 84.</param>
/// <param name="At">When it was reported.</param>
public readonly record struct Place(double Latitude, double Longitude, Moment At);
