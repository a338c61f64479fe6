using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Refusals;

namespace AxleTelemetry.Service.Fleet;

/// <summary>Something that following a fleet brought to light.</summary>
/// <param name="Vehicle">Whom it concerns; a powered vehicle stands for its combination. Empty for a topic that names none.</param>
/// <param name="At">By the vehicle's clock where it has said so, else the receive time.</param>
internal abstract record FleetEvent(VehicleName Vehicle, Moment At)
{
    /// <summary>A lane has something to say.</summary>
    public sealed record Said(VehicleName Vehicle, Combination Combination, LaneOutput Output) : FleetEvent(Vehicle, Output.At);

    /// <summary>The vehicle is coupled anew.</summary>
    public sealed record Coupled(VehicleName Vehicle, Moment At, Combination Combination) : FleetEvent(Vehicle, At);

    /// <summary>A coupling that cannot be; what was coupled before goes on.</summary>
    public sealed record CouplingRefused(VehicleName Vehicle, Moment At, ImmutableArray<string> Trailers, string Reason) : FleetEvent(Vehicle, At);

    /// <summary>Part of a message, or all of it, was refused.</summary>
    public sealed record Refused(VehicleName Vehicle, Moment At, Refusal Refusal) : FleetEvent(Vehicle, At);

    /// <summary>The first message of a vehicle that nobody described.</summary>
    public sealed record Unknown(VehicleName Vehicle, Moment At) : FleetEvent(Vehicle, At);

    /// <summary>A fault of ours: the vehicle's lane stopped, and no other.</summary>
    public sealed record Stopped(VehicleName Vehicle, Moment At, string Reason) : FleetEvent(Vehicle, At);
}
