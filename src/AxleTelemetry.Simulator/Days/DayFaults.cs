using System.Collections.Immutable;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Hauling;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Simulator.Days;

/// <summary>What goes wrong with one vehicle on one day.</summary>
internal sealed class DayFaults
{
    private const int Purpose = 1;

    private readonly ImmutableHashSet<FaultKind> _kinds;
    private readonly FleetVehicle _vehicle;

    private DayFaults(FleetVehicle vehicle, FleetPlan plan, SeededRandom random)
    {
        _vehicle = vehicle;
        // Every kind draws whether it is on or not: one more kind changes nothing about the others.
        _kinds = [.. Enum.GetValues<FaultKind>().Where(kind => random.Fork().Chance(plan.Faults.GetValueOrDefault(kind)) && IsPossible(kind))];
        FromSecond = random.Whole(2 * 3600, 5 * 3600);
        Sensor = random.Whole(0, Math.Max(0, vehicle.Sensors.Length - 1));
        ClockOffset = Has(FaultKind.ClockOffset) ? random.Pick(-1, 1) * random.Whole(2, 8) : 0;
        SlowBy = Has(FaultKind.WrongClockAtStart) ? random.Whole(3600, 3 * 3600) : 0;
        SlowFor = random.Whole(30, 300);
        Sensed = Has(FaultKind.SensorStuck) ? new SensorFault.Stuck(null)
            : Has(FaultKind.SensorDrifts) ? new SensorFault.Drift(random.Pick(-1, 1) * random.Between(0.3, 2))
            : new SensorFault.None();
        RaisedMetres = random.Between(4000, 25_000);
        Outages = Has(FaultKind.StoredOldestFirst) || Has(FaultKind.StoredNewestFirst)
            ? [.. Enumerable.Range(0, random.Whole(1, 3)).Select(i => (From: 1800 + 9000 * i + random.Whole(0, 3000), Seconds: random.Whole(120, 5400)))]
            : [];
    }

    /// <summary>When a sensor begins to fail, and a connection is lost: seconds into the day's work.</summary>
    public int FromSecond { get; }

    public int Sensor { get; }

    public SensorFault Sensed { get; }

    public int ClockOffset { get; }

    public int SlowBy { get; }

    public int SlowFor { get; }

    public double RaisedMetres { get; }

    public ImmutableArray<(int From, int Seconds)> Outages { get; }

    public static DayFaults Draw(FleetVehicle vehicle, FleetPlan plan, int day) => new(vehicle, plan, vehicle.On(day, Purpose));

    public bool Has(FaultKind kind) => _kinds.Contains(kind);

    /// <summary>What is wrong at a second of the day's work.</summary>
    public IEnumerable<ActiveFault> Active(double second) =>
        _kinds.Where(kind => IsActive(kind, second)).Order().Select(kind => new ActiveFault(_vehicle.Id, kind, Part(kind)));

    private bool IsActive(FaultKind kind, double second) => kind switch
    {
        FaultKind.SensorDrifts => second >= FromSecond && Sensed is SensorFault.Drift,
        FaultKind.SensorStuck => second >= FromSecond,
        FaultKind.WrongClockAtStart => second < SlowFor,
        FaultKind.StoredOldestFirst or FaultKind.StoredNewestFirst => Outages.Any(o => second >= o.From && second < o.From + o.Seconds),
        _ => true,
    };

    private string Part(FaultKind kind) => kind switch
    {
        FaultKind.SensorDrifts or FaultKind.SensorStuck or FaultKind.SensorOneSided => _vehicle.Description.Sensors[Sensor].Key,
        FaultKind.LiftSwitchLies or FaultKind.LeftDown or FaultKind.RaisedTooLong or FaultKind.AutomaticFails =>
            _vehicle.Description.Axles.First(a => a.Lift is not null).Key,
        _ => "",
    };

    private bool IsPossible(FaultKind kind) => kind switch
    {
        FaultKind.SensorDrifts or FaultKind.SensorStuck or FaultKind.SensorOneSided => _vehicle.Sensors.Length > 0,
        FaultKind.LiftSwitchLies => _vehicle.Habits is not null && _vehicle.Description.Axles.Any(a => a.Lift is not null),
        FaultKind.LeftDown or FaultKind.RaisedTooLong or FaultKind.AutomaticFails => _vehicle.Description.Axles.Any(a => a.Lift is not null),
        _ => _vehicle.Habits is not null,
    };
}
