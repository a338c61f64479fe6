namespace AxleTelemetry.Domain.Calibration;

/// <summary>Names a circuit: a pressure sensor of a vehicle.</summary>
/// <param name="Vehicle">Vehicle id, 1 to 64 of A-Z a-z 0-9 . _ -</param>
/// <param name="Sensor">Key of the sensor in the vehicle's description, same alphabet.</param>
public sealed record CircuitId(string Vehicle, string Sensor)
{
    /// <summary><c>vehicle/sensor</c>.</summary>
    public override string ToString() => $"{Vehicle}/{Sensor}";
}
