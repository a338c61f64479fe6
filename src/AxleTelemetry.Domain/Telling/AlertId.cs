using System.Globalization;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Telling;

/// <summary>Identity of an alert: the same whenever the same inputs are told again. It stays when a correction moves the beginning.</summary>
/// <param name="Vehicle">Whose.</param>
/// <param name="Subject">About what.</param>
/// <param name="Since">Beginning of the episode as it was first told.</param>
public sealed record AlertId(VehicleName Vehicle, AlertSubject Subject, Moment Since)
{
    /// <summary><c>fleet/vehicle/subject/milliseconds</c>: the key of rows and addresses.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Vehicle.Fleet}/{Vehicle.Id}/{Subject}/{Since.UnixMilliseconds}");
}
