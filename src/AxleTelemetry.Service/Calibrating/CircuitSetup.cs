using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Service.Calibrating;

/// <summary>What a calibration takes from the vehicle and not from tickets, for the reference axle of a circuit.</summary>
internal sealed record CircuitSetup(HandbookPrior Handbook, Mass Unsprung, Mass TypicalAxleLoad)
{
    /// <summary>What a description says of a circuit; a full axle is one at its rating.</summary>
    public static CircuitSetup Of(VehicleDescription vehicle, PressureSensor sensor)
    {
        var reference = vehicle.Axles[sensor.Axles[0]];
        return new(HandbookPrior.FromFit(sensor.Handbook, reference.Rating), reference.Unsprung, reference.Rating);
    }
}
