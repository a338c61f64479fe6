namespace AxleTelemetry.Domain.RoadWear;

/// <summary>Wear of a road by one pass, in standard axles; over a distance times kilometres.</summary>
/// <param name="Aashto">By the full AASHTO equation, group by group.</param>
/// <param name="FourthPower">By the plain fourth power, axle by axle.</param>
public readonly record struct WearOfPass(double Aashto, double FourthPower);
