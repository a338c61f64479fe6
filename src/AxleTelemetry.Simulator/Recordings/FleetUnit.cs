using System.Collections.Immutable;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Fleet;
using AxleTelemetry.Simulator.Journeys;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Recordings;

/// <summary>A vehicle over the whole recording: what is true of it, and what it takes from one stretch into the next.</summary>
internal sealed class FleetUnit(VehicleDescription description, Device device, SeededRandom random)
{
    private const double MinuteSeconds = 60, EmptyBellowsSd = 2, LeastResidual = 20;

    private double _north = random.Between(-0.4, 0.4), _east = random.Between(-0.4, 0.4);

    public VehicleDescription Description { get; } = description;

    public Device Device { get; } = device;

    public TrueVehicle Truth { get; } = Carrying(TruthDraw.Vehicle(description, random));

    public ImmutableArray<SensorTruth> Sensors { get; } = [.. description.Sensors.Select(s => TruthDraw.Sensor(s, ticketed: true, random))];

    /// <summary>Payload aboard, kg.</summary>
    public double Kilograms { get; set; }

    /// <summary>Where its centre is, m.</summary>
    public double Centre { get; set; }

    /// <summary>Where each axle with a lift stands.</summary>
    public LiftReport?[] Lifts { get; } = [.. description.Axles.Select(a => a.Lift is null ? (LiftReport?)null : LiftReport.Lowered)];

    /// <summary>The same road, where this vehicle is.</summary>
    public PositionReport Place(PositionReport report) => report with
    {
        Latitude = Math.Round(report.Latitude + _north, 5),
        Longitude = Math.Round(report.Longitude + _east, 5),
    };

    /// <summary>The next stretch begins where this one ended.</summary>
    public void Stay(PositionReport begun, PositionReport ended)
    {
        _north += ended.Latitude - begun.Latitude;
        _east += ended.Longitude - begun.Longitude;
    }

    // A relieved axle that carries exactly nothing seems to pull by the rounding of the equations.
    private static TrueVehicle Carrying(TrueVehicle vehicle) =>
        vehicle with { Residuals = [.. vehicle.Residuals.Select(r => Math.Max(LeastResidual, r))] };

    /// <summary>A parked trailer says once a minute that its bellows are empty.</summary>
    public void Park(Stretch.Parked stretch)
    {
        if (Description.Sensors.IsEmpty) return;
        for (var second = MinuteSeconds; second < stretch.Seconds; second += MinuteSeconds)
        {
            var at = stretch.From.Plus(second);
            Device.RestartedBy(at);
            Device.Add(UpStream.Pressure, at, json =>
            {
                json.WriteStartObject("kpa");
                foreach (var sensor in Description.Sensors) json.WriteNumber(sensor.Key, Math.Round(Math.Abs(random.Normal(EmptyBellowsSd)), 1));
                json.WriteEndObject();
            });
        }
    }
}
