using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Payloads;

namespace AxleTelemetry.Service.Fleet;

/// <summary>Takes statements of what hangs on a vehicle: checks them, and tells everyone whom they concern.</summary>
/// <param name="trailer">The trailer of a name; <c>null</c> where nobody described it.</param>
/// <param name="unit">The powered vehicle of a name, where it was heard of.</param>
/// <param name="tell">Receives what is refused.</param>
internal sealed class CouplingDesk(Func<VehicleName, Trailer?> trailer, Func<VehicleName, PoweredUnit?> unit, Action<FleetEvent> tell)
{
    /// <summary>Takes a vehicle's own statement.</summary>
    public void Take(Followed vehicle, CouplingStatement statement)
    {
        if (Check(vehicle, statement.Trailers, out var trailers, out var reason) is not { } combination || vehicle is not PoweredUnit powered)
        {
            vehicle.Counts.CouplingsRefused++;
            tell(new FleetEvent.CouplingRefused(vehicle.Name, statement.At, statement.Trailers, reason));
            return;
        }

        var at = statement.At.UnixMilliseconds;
        if (powered.State(new CouplingChange.Stated(at, combination, trailers)) is { } from) Enter(powered, trailers, from);
    }

    /// <summary>Couples what the operator says is coupled from the beginning.</summary>
    public void Begin(PoweredUnit powered, ImmutableArray<string> ids)
    {
        if (Check(powered, ids, out var trailers, out var reason) is { } combination)
        {
            Enter(powered, trailers, long.MinValue);
            powered.Begin(combination, trailers);
            return;
        }

        powered.Counts.CouplingsRefused++;
        tell(new FleetEvent.CouplingRefused(powered.Name, default, ids, reason));
    }

    private Combination? Check(Followed vehicle, ImmutableArray<string> ids, out ImmutableArray<Trailer> trailers, out string reason)
    {
        ImmutableArray<Trailer?> found = [.. ids.Select(id => trailer(new VehicleName(vehicle.Name.Fleet, id)))];
        trailers = [.. found.OfType<Trailer>()];
        reason = found.IndexOf(null) is var missing and >= 0 ? $"Nobody described '{ids[missing]}'."
            : trailers.Distinct().Count() < trailers.Length ? "A trailer stands twice."
            : "";
        if (reason.Length > 0) return null;
        switch (Combination.Couple([vehicle.Described.Vehicle, .. trailers.Select(t => t.Described.Vehicle)]))
        {
            case CouplingResult.Coupled coupled:
                return coupled.Combination;
            case CouplingResult.Impossible impossible:
                reason = impossible.Reason;
                return null;
            default:
                throw new InvalidOperationException("An outcome of coupling that nobody handles.");
        }
    }

    private void Enter(PoweredUnit powered, ImmutableArray<Trailer> trailers, long from)
    {
        foreach (var claimed in trailers)
        {
            if (from != long.MinValue && claimed.Claims.At(from) is { } holder && holder != powered.Name) unit(holder)?.Lose(from, claimed);
            claimed.Claims.Enter(from, powered.Name, true);
            // Word of this claim may come after that of the next one.
            foreach (var next in claimed.Claims.ClaimedByOthers(from, powered.Name)) powered.Lose(next, claimed);
            powered.EverClaimed.Add(claimed);
        }

        foreach (var left in powered.EverClaimed)
            if (!trailers.Contains(left)) left.Claims.Enter(from, powered.Name, false);
    }
}
