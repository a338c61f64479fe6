namespace AxleTelemetry.Domain.Loads;

/// <summary>A settled (or standing) reading of one circuit, ready for the estimator.</summary>
/// <param name="Sensor">Sensor, counted through the combination.</param>
/// <param name="Pressure">Mean pressure, kPa, referred to ambient.</param>
/// <param name="NoiseVariance">Variance of what is new in each reading, kg2.</param>
/// <param name="PressureSd">Temperature and ambient pressure, kPa: one standard deviation, constant within a leg.</param>
public readonly record struct CircuitReading(int Sensor, double Pressure, double NoiseVariance, double PressureSd);
