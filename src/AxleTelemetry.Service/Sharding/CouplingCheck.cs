using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Sharding;

/// <summary>Holds what a vehicle says hangs on it against the descriptions.</summary>
internal sealed class CouplingCheck(ShardState state)
{
    // A device that makes up names must not fill the memory.
    private const int MostUndescribed = 1000;

    /// <summary>Why a statement cannot be; <c>null</c> where it can. For a trailer without a description a stated default is looked at.</summary>
    public Refusal? Refuse(FollowedVehicle vehicle, CouplingStatement stated)
    {
        ImmutableArray<(VehicleName Name, VehicleDescription? Described)> trailers = [.. stated.Trailers.Select(id => new VehicleName(vehicle.Name.Fleet, id)).Select(name => (name, state.Log.Known(name)?.Vehicle))];
        foreach (var (name, described) in trailers)
            if (described is null && !state.History.IsClaimed(name) && state.History.CountClaimed >= MostUndescribed + state.Configuration.Fleets.Sum(f => f.Vehicles.Length))
                return Why(name.Id, $"a trailer that is described: {MostUndescribed} others are coupled already");
        return Combination.Couple(StandInTrailer.Fill([(vehicle.Name.Id, vehicle.Described.Vehicle), .. trailers.Select(t => (t.Name.Id, t.Described))])) switch
        {
            CouplingResult.Coupled => null,
            CouplingResult.Impossible impossible => Why(string.Join(",", stated.Trailers), $"vehicles that can be coupled. {impossible.Reason.TrimEnd('.')}"),
            _ => throw new InvalidOperationException("An outcome of coupling that nobody handles."),
        };
    }

    private static Refusal Why(string excerpt, string right) => new(RefusalReason.CannotBeCoupled, "samples[].trailers", Excerpt.Of(excerpt), right);
}
