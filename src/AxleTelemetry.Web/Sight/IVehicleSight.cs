using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Web.Sight;

/// <summary>One vehicle, as the service knows it. For any thread.</summary>
public interface IVehicleSight
{
    /// <summary>The vehicle as it stands; <c>null</c> where nobody described it.</summary>
    Task<VehiclePicture?> VehicleAsync(VehicleName vehicle, CancellationToken cancel);

    /// <summary>What it carried and what was found over a span.</summary>
    Task<Timeline> TimelineAsync(VehicleName vehicle, Moment from, Moment to, CancellationToken cancel);

    /// <summary>The messages of a moment as they came, so many seconds to either side of it.</summary>
    Task<ImmutableArray<MessageLine>> MessagesAsync(VehicleName vehicle, Moment at, int seconds, CancellationToken cancel);
}
