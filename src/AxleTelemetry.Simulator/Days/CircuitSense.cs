using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Hauling;
using AxleTelemetry.Simulator.Journeys;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Days;

/// <summary>What the sensors of one vehicle show on one day: noise, errors of a stretch of road, friction, levelling, faults.</summary>
internal sealed class CircuitSense(FleetVehicle vehicle, SeededRandom random, bool noisy)
{
    // Spreads are the simulator's error budget; noise, its memory and the time of levelling are common practice.
    private const double StretchSd = 0.007, CrownSd = 0.025, Friction = 0.03, FrictionGoneMetres = 300, Moved = 30;
    private const double NoiseAtSpeed = 4, FullNoiseSpeed = 19, NoiseAtRest = 0.05, NoiseMemory = 0.4, LevellingSeconds = 8;

    private readonly Course[] _courses = [.. vehicle.Sensors.Select(_ => new Course())];

    /// <summary>One sensor measures one side only: a road's camber puts more or less on it.</summary>
    public void OneSided(int sensor) => _courses[sensor].OneSided = true;

    public void Begin(int sensor, SensorFault fault) =>
        _courses[sensor].Fault = fault is SensorFault.Stuck { Kilopascals: null } ? new SensorFault.Stuck(_courses[sensor].Shown) : fault;

    /// <summary>Another stretch of road: another grade, crown and wind.</summary>
    public void BeginStretch()
    {
        for (var i = 0; i < _courses.Length; i++)
        {
            var sided = _courses[i].OneSided || vehicle.Description.Sensors[i].Side != CircuitSide.Both;
            _courses[i].Stretch = noisy ? random.Normal(StretchSd) + (sided ? random.Normal(CrownSd) : 0) : 0;
        }
    }

    /// <summary>Pressures of one moment, kPa; NaN where a sensor says nothing.</summary>
    public void Sense(Rig rig, int body, in Felt felt, Span<double> shown)
    {
        var first = rig.Described.Bodies[body].FirstSensor;
        for (var i = 0; i < _courses.Length; i++)
        {
            var part = rig.Described.Sensors[first + i];
            var pressure = Pressure(i, rig, part, felt) + part.Sensor.Reference switch
            {
                // Sealed in at sea level: what the thinner air outside leaves free.
                PressureReference.Sealed => BellowsSense.Ambient(felt.Altitude) - 101.3,
                PressureReference.Absolute => BellowsSense.Ambient(felt.Altitude),
                _ => 0,
            };
            shown[i] = Math.Round(Faulty(_courses[i], pressure, felt.Seconds), 1);
        }
    }

    private double Pressure(int sensor, Rig rig, SensorPart part, in Felt felt)
    {
        var course = _courses[sensor];
        if (noisy)
        {
            var sd = NoiseAtRest + NoiseAtSpeed * felt.Roughness * Math.Min(1, felt.Wheels / FullNoiseSpeed);
            course.Noise = NoiseMemory * course.Noise + random.Normal(sd * Math.Sqrt(1 - NoiseMemory * NoiseMemory));
        }

        if (felt.Height == RideHeight.Dumped) return Math.Abs(course.Noise) / 10;
        var feel = rig.Feels[part.Index];
        if (feel.Axle < 0) return part.Sensor.RaisedResidual.Kilopascals + course.Noise / 10;
        var sprung = feel.Scaled(rig.Sprung(feel.Axle, felt.Motion));
        var held = noisy ? Held(course, sprung, felt) : 0;
        return vehicle.Sensors[sensor].TruthToPressure(sprung * (1 + course.Stretch + held), course.Noise).Kilopascals;
    }

    // Friction holds against the way the load last moved until the wheels have rolled; bellows that lost air fill again.
    private static double Held(Course course, double sprung, in Felt felt)
    {
        if (Math.Abs(sprung - course.Sprung) > Moved && felt.Wheels <= 0)
        {
            course.Friction = sprung > course.Sprung ? -Friction : Friction;
            course.Sprung = sprung;
        }

        var levelling = -felt.Unlevel * Math.Exp(-felt.SinceLevelling / LevellingSeconds);
        return course.Friction * Math.Max(0, 1 - felt.Rolled / FrictionGoneMetres) + levelling;
    }

    private static double Faulty(Course course, double pressure, double seconds)
    {
        if (course.Fault is SensorFault.None) course.FaultFrom = seconds;
        return course.Shown = course.Fault switch
        {
            SensorFault.None => pressure,
            SensorFault.Stuck stuck => stuck.Kilopascals ?? pressure,
            // A sensor ends at its range, and what it would say beyond is no pressure.
            SensorFault.Drift drift => Math.Clamp(pressure + drift.KilopascalsPerMinute * (seconds - course.FaultFrom) / 60, 0, 1500),
            SensorFault.Step step => Math.Clamp(pressure + step.Kilopascals, 0, 1500),
            SensorFault.Dead => double.NaN,
            _ => throw new InvalidOperationException($"No sensor of a day does {course.Fault}."),
        };
    }

    private sealed class Course
    {
        public double Stretch;
        public double Friction;
        public double Noise;
        public double Sprung;
        public double Shown = double.NaN;
        public double FaultFrom;
        public bool OneSided;
        public SensorFault Fault = new SensorFault.None();
    }
}

/// <summary>What the suspension of one vehicle feels at a moment.</summary>
/// <param name="Seconds">Since the day began.</param>
/// <param name="Motion">What the combination feels.</param>
/// <param name="Wheels">Speed of the wheels, m/s.</param>
/// <param name="Rolled">Metres rolled since the last stop.</param>
/// <param name="Roughness">Of the road.</param>
/// <param name="Altitude">m.</param>
/// <param name="Height">Ride height.</param>
/// <param name="Unlevel">How much of the load the bellows lacked when levelling began.</param>
/// <param name="SinceLevelling">Seconds since then.</param>
internal readonly record struct Felt(
    double Seconds, RoadMotion Motion, double Wheels, double Rolled, double Roughness, double Altitude, RideHeight Height, double Unlevel, double SinceLevelling);
