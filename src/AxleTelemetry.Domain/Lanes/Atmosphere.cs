using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>Refers a sensor's pressure to the air around the vehicle, and says how far temperature and altitude may put it off.</summary>
internal static class Atmosphere
{
    private const double SeaLevel = 101.3;

    /// <summary>Ambient pressure at an altitude, kPa: standard atmosphere, ISO 2533.</summary>
    public static double Ambient(double metres) => 101.325 * Math.Pow(1 - 2.25577e-5 * metres, 5.25588);

    /// <summary>Pressure above ambient, kPa, and its standard deviation constant within a leg.</summary>
    public static (double Pressure, double Sd) Refer(PressureSensor sensor, double pressure, in MotionState motion, in ConditionState condition)
    {
        var known = motion.AltitudeAt != 0;
        var altitude = known ? motion.Altitude : 0;
        // Sensitivity to temperature: 0.5 % of full scale per 25 K; unreported, 10 K off the calibration's are usual. Common practice.
        var warm = condition.AmbientKnown != 0 ? Math.Abs(condition.Ambient - 15) : 10;
        var temperature = 0.005 * sensor.FullScale.Kilopascals * warm / 25;
        var unknownAltitude = known ? 0 : 3.0;
        return sensor.Reference switch
        {
            PressureReference.Vented => (pressure, temperature),
            PressureReference.Sealed => (pressure + SeaLevel - Ambient(altitude), Root(temperature, unknownAltitude)),
            PressureReference.Absolute => (pressure - Ambient(altitude), Root(temperature, unknownAltitude)),
            PressureReference.Unknown => (pressure, Root(temperature, known ? Math.Abs(altitude) / 100 : unknownAltitude)),
            _ => throw new ArgumentOutOfRangeException(nameof(sensor), sensor.Reference, "Unknown pressure reference."),
        };
    }

    private static double Root(double a, double b) => Math.Sqrt(a * a + b * b);
}
