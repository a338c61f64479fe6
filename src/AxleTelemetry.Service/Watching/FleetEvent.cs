using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Refusals;

namespace AxleTelemetry.Service.Watching;

/// <summary>Something that following a fleet brought to light.</summary>
/// <param name="Vehicle">Whom it concerns; a powered vehicle stands for its combination. Empty for a topic that names none.</param>
/// <param name="At">By the vehicle's clock where it has said so, else the receive time.</param>
internal abstract record FleetEvent(VehicleName Vehicle, Moment At)
{
    /// <summary>A lane has something to say.</summary>
    public sealed record Said(VehicleName Vehicle, Combination Combination, LaneOutput Output) : FleetEvent(Vehicle, Output.At);

    /// <summary>Readings that came late changed what was told.</summary>
    /// <param name="Vehicle">The powered vehicle.</param>
    /// <param name="At">When it began, as it is known now; when it ended where that is the news.</param>
    /// <param name="Combination">The vehicles it was found on.</param>
    /// <param name="Finding">What was found.</param>
    /// <param name="Change">What is otherwise now.</param>
    public sealed record Revised(VehicleName Vehicle, Moment At, Combination Combination, EpisodeInForce Finding, Revision Change) : FleetEvent(Vehicle, At)
    {
        /// <summary>Its row of history; <c>null</c> where it is withdrawn.</summary>
        public HistoryRow.Episode? Row { get; init; }
    }

    /// <summary>The vehicle is coupled anew.</summary>
    public sealed record Coupled(VehicleName Vehicle, Moment At, ImmutableArray<string> Trailers) : FleetEvent(Vehicle, At);

    /// <summary>Part of a message, or all of it, was refused.</summary>
    public sealed record Refused(VehicleName Vehicle, Moment At, Refusal Refusal) : FleetEvent(Vehicle, At);

    /// <summary>The first message of a vehicle that nobody described.</summary>
    public sealed record Unknown(VehicleName Vehicle, Moment At) : FleetEvent(Vehicle, At);

    /// <summary>A fault of ours: the vehicle's lane stopped, and no other.</summary>
    public sealed record Stopped(VehicleName Vehicle, Moment At, string Reason) : FleetEvent(Vehicle, At);
}

/// <summary>What a second run of history made of a finding.</summary>
internal enum Revision
{
    /// <summary>It was not told, and holds.</summary>
    Found,

    /// <summary>It was not told, and held for a while that is over.</summary>
    FoundEnded,

    /// <summary>It was told, and holds at another level.</summary>
    Levelled,

    /// <summary>It was told as open, and has ended.</summary>
    Ended,

    /// <summary>It was told as ended, and goes on.</summary>
    GoesOn,

    /// <summary>It was told, and is none.</summary>
    Withdrawn,
}
