using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Simulator.Statics;

/// <summary>What a bellows circuit and its sensor really do: sprung load of the circuit's reference axle S = a + b p.</summary>
/// <param name="OffsetKilograms">a, kg: what the axle carries before there is any pressure.</param>
/// <param name="KilogramsPerKilopascal">b, kg per kPa, greater than zero.</param>
public readonly record struct SensorTruth(double OffsetKilograms, double KilogramsPerKilopascal)
{
    /// <summary>Pressure that the sensor shows for a true sprung load. Bellows hold no vacuum; noise may still show one.</summary>
    /// <param name="sprungKilograms">Sprung load of the reference axle, kg.</param>
    /// <param name="noiseKilopascals">Noise of this reading, kPa, from the caller.</param>
    public Pressure TruthToPressure(double sprungKilograms, double noiseKilopascals)
    {
        var pressure = (sprungKilograms - OffsetKilograms) / KilogramsPerKilopascal;
        return Pressure.FromKilopascals(Math.Max(0, pressure) + noiseKilopascals);
    }
}
