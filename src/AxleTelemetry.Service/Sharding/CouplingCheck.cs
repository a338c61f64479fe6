using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Sharding;

/// <summary>Holds what a vehicle says hangs on it against the descriptions.</summary>
internal sealed class CouplingCheck(ShardState state)
{
    /// <summary>Why a statement cannot be; <c>null</c> where it can.</summary>
    public Refusal? Refuse(FollowedVehicle vehicle, CouplingStatement stated)
    {
        ImmutableArray<Described?> trailers = [.. stated.Trailers.Select(id => state.Log.Latest.Find(new VehicleName(vehicle.Name.Fleet, id)))];
        if (trailers.IndexOf(null) is var missing and >= 0) return Why(stated.Trailers[missing], "a trailer that is described");
        return Combination.Couple([vehicle.Described.Vehicle, .. trailers.Select(t => t!.Vehicle)]) switch
        {
            CouplingResult.Coupled => null,
            CouplingResult.Impossible impossible => Why(string.Join(",", stated.Trailers), $"vehicles that can be coupled. {impossible.Reason.TrimEnd('.')}"),
            _ => throw new InvalidOperationException("An outcome of coupling that nobody handles."),
        };
    }

    private static Refusal Why(string excerpt, string right) => new(RefusalReason.CannotBeCoupled, "samples[].trailers", Excerpt.Of(excerpt), right);
}
