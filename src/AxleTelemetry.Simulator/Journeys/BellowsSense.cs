using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Days;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Journeys;

/// <summary>From true loads to what the sensors show: road noise, errors of a stretch of road, friction while standing, faults.</summary>
internal sealed class BellowsSense
{
    // Spreads are the simulator's error budget; noise and its memory are common practice.
    private const double StretchSd = 0.007, Friction = 0.03, FrictionGoneMetres = 300;
    private const double NoiseAtSpeed = 4, FullNoiseSpeed = 19, NoiseAtRest = 0.05, NoiseMemory = 0.4;
    private const double SeaLevel = 101.325;

    private readonly JourneyScript _script;
    private readonly SeededRandom _random;
    private readonly SensorCourse[] _courses;

    public BellowsSense(JourneyScript script, SeededRandom random)
    {
        _script = script;
        _random = random;
        _courses = [.. script.Combination.Sensors.Select(_ => new SensorCourse())];
        BeginStretch();
    }

    /// <summary>Another stretch of road: another grade, crown and wind.</summary>
    public void BeginStretch()
    {
        foreach (var course in _courses)
        {
            course.Stretch = _random.Normal(StretchSd);
            course.Friction = _random.Between(-Friction, Friction);
        }
    }

    public void Begin(int sensor, SensorFault fault)
    {
        var course = _courses[sensor];
        course.Fault = fault is SensorFault.Stuck { Kilopascals: null } ? new SensorFault.Stuck(course.Shown) : fault;
        course.FaultSeconds = 0;
    }

    /// <summary>One second. Friction holds against the way the load last moved until the wheels have rolled.</summary>
    public ImmutableArray<double?> Sense(TrueLoads loads, IReadOnlyList<RideHeight> heights, double wheels, double rolled, double altitude)
    {
        var shown = ImmutableArray.CreateBuilder<double?>(_courses.Length);
        foreach (var part in _script.Combination.Sensors)
        {
            var course = _courses[part.Index];
            var noise = NoiseAtRest + NoiseAtSpeed * Math.Min(1, wheels / FullNoiseSpeed);
            course.Noise = NoiseMemory * course.Noise + _random.Normal(noise * Math.Sqrt(1 - NoiseMemory * NoiseMemory));
            var pressure = Pressure(part, course, loads, heights[part.Body], rolled);
            pressure += part.Sensor.Reference switch
            {
                // Sealed in at sea level: what the thinner air outside leaves free.
                PressureReference.Sealed => Ambient(altitude) - 101.3,
                PressureReference.Absolute => Ambient(altitude),
                _ => 0,
            };
            shown.Add(Faulty(course, pressure) is { } value ? Math.Round(value, 1) : null);
        }

        return shown.MoveToImmutable();
    }

    private double Pressure(SensorPart part, SensorCourse course, TrueLoads loads, RideHeight height, double rolled)
    {
        if (height == RideHeight.Dumped) return Math.Abs(course.Noise) / 10;
        if (ReferenceSprung(part, loads) is not { } sprung) return part.Sensor.RaisedResidual.Kilopascals + course.Noise / 10;
        if (course.Sprung != 0 && Math.Abs(sprung - course.Sprung) > 30)
            course.Friction = sprung > course.Sprung ? -Friction : Friction;
        if (course.Sprung == 0 || Math.Abs(sprung - course.Sprung) > 30) course.Sprung = sprung;
        var held = course.Friction * Math.Max(0, 1 - rolled / FrictionGoneMetres);
        var crown = course.Fault is SensorFault.Crown side ? side.Fraction : 0;
        var off = height == RideHeight.Off ? 0.6 : 1;
        return _script.Sensors[part.Index].TruthToPressure(sprung * off * (1 + course.Stretch + held + crown), course.Noise).Kilopascals;
    }

    private double? ReferenceSprung(SensorPart part, TrueLoads loads)
    {
        var feel = CircuitFeel.In(_script.Truth, part, loads.Configuration);
        return feel.Axle < 0 ? null : feel.Scaled(loads.Sprung[feel.Axle]);
    }

    private static double? Faulty(SensorCourse course, double pressure)
    {
        course.FaultSeconds++;
        course.Shown = course.Fault switch
        {
            SensorFault.None or SensorFault.Crown => pressure,
            SensorFault.Stuck stuck => stuck.Kilopascals ?? pressure,
            SensorFault.Drift drift => pressure + drift.KilopascalsPerMinute * course.FaultSeconds / 60,
            SensorFault.Step step => pressure + step.Kilopascals,
            SensorFault.Dead => null,
            _ => throw new InvalidOperationException($"No sensor does {course.Fault}."),
        };
        return course.Shown;
    }

    /// <summary>Air pressure at an altitude, kPa: ISO 2533.</summary>
    internal static double Ambient(double metres) => SeaLevel * Math.Pow(1 - 2.25577e-5 * metres, 5.25588);

    private sealed class SensorCourse
    {
        public double Stretch;
        public double Friction;
        public double Noise;
        public double Sprung;
        public double? Shown;
        public double FaultSeconds;
        public SensorFault Fault = new SensorFault.None();
    }
}
