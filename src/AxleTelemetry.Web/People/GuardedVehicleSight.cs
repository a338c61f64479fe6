using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Web.Accounts;
using AxleTelemetry.Web.Sight;
using Microsoft.AspNetCore.Components.Authorization;

namespace AxleTelemetry.Web.People;

/// <summary>A vehicle for one who looks: raw messages only for whoever may read them, and noted.</summary>
public sealed class GuardedVehicleSight(IVehicleSight sight, AuthenticationStateProvider signedIn, IAccessLog log) : IVehicleSight
{
    private const string Messages = "/vehicle/{fleet}/{id} raw messages";

    public Task<VehiclePicture?> VehicleAsync(VehicleName vehicle, CancellationToken cancel) => sight.VehicleAsync(vehicle, cancel);

    public Task<Timeline> TimelineAsync(VehicleName vehicle, Moment from, Moment to, CancellationToken cancel) => sight.TimelineAsync(vehicle, from, to, cancel);

    public async Task<ImmutableArray<MessageLine>> MessagesAsync(VehicleName vehicle, Moment at, int seconds, CancellationToken cancel)
    {
        var who = (await signedIn.GetAuthenticationStateAsync()).User;
        // The page does not offer it to others; this holds if it ever did.
        if (!who.Has(Right.ReadRaw)) return [];
        await log.NoteAsync(who.Identity?.Name ?? "", Messages, $"{vehicle.Fleet}/{vehicle.Id}", cancel);
        return await sight.MessagesAsync(vehicle, at, seconds, cancel);
    }
}
