using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Tests.Estimation;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Tests.Lanes;

public sealed class AtmosphereTests
{
    private static readonly PressureSensor Sensor = Fleet.Example("rigid-6x2-tag.json").Sensors[0];

    /// <summary>Standard atmosphere, ISO 2533: 101.325 kPa at sea level, 89.875 at 1 000 m, 79.495 at 2 000 m. From memory.</summary>
    [Theory]
    [InlineData(0, 101.325)]
    [InlineData(1_000, 89.875)]
    [InlineData(2_000, 79.495)]
    public void Ambient_pressure_is_the_standard_atmospheres_from_memory(double metres, double kilopascals) =>
        Assert.Equal(kilopascals, Atmosphere.Ambient(metres), 0.005);

    [Fact]
    public void A_sealed_sensor_gets_back_what_the_mountain_took()
    {
        var motion = new MotionState { Altitude = 1_370, AltitudeAt = 1 };
        var (pressure, _) = Atmosphere.Refer(Sensor with { Reference = PressureReference.Sealed }, 400, motion, default);
        Assert.InRange(pressure, 414, 417);
    }

    [Fact]
    public void An_absolute_sensor_loses_the_air_around_it()
    {
        var motion = new MotionState { Altitude = 0, AltitudeAt = 1 };
        var (pressure, _) = Atmosphere.Refer(Sensor with { Reference = PressureReference.Absolute }, 501.325, motion, default);
        Assert.Equal(400, pressure, 3);
    }

    [Fact]
    public void An_unknown_reference_is_a_kilopascal_wide_per_hundred_metres()
    {
        var motion = new MotionState { Altitude = 1_000, AltitudeAt = 1 };
        var mild = new ConditionState { AmbientKnown = 1, Ambient = 15 };
        var (pressure, sd) = Atmosphere.Refer(Sensor with { Reference = PressureReference.Unknown }, 400, motion, mild);
        Assert.Equal((400.0, 10.0), (pressure, sd));
    }
}
