using System.Text.Json;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Simulator.Hauling;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Simulator.Days;

/// <summary>One vehicle on one day: its suspension, its sensors, and what its device says of them.</summary>
internal sealed class DayVehicle
{
    // Streams sent apart are sampled one after another within a second.
    private const double LiftAfter = 0.11, ConditionAfter = 0.23, PositionAfter = 0.37;
    private const int DevicePurpose = 2, NetworkPurpose = 3, SensePurpose = 4;

    private static readonly string[] Lifts = ["loaded", "unloaded", "raised", "moving", "unknown", "lowered"];

    private readonly LiftReport?[] _said;
    private readonly double[] _shown;
    private readonly Network _network;
    private readonly SendQueue _queue;
    private SelfReport? _reported;
    private int _fuel = -1;

    public DayVehicle(FleetVehicle vehicle, FleetPlan plan, (int Day, Moment Start, SendQueue Queue) when)
    {
        Vehicle = vehicle;
        Faults = DayFaults.Draw(vehicle, plan, when.Day);
        Sense = new CircuitSense(vehicle, vehicle.On(when.Day, SensePurpose), plan.Noise);
        if (Faults.Has(FaultKind.SensorOneSided)) Sense.OneSided(Faults.Sensor);
        _queue = when.Queue;
        _network = new Network(Faults, when.Start, vehicle.On(when.Day, NetworkPurpose));
        Device = vehicle.Habits is null ? null : new DayDevice(vehicle, vehicle.On(when.Day, DevicePurpose), message => _network.Send(message, _queue)) { StoredUntil = plan.StoredUntil };
        _said = new LiftReport?[vehicle.Description.Axles.Length];
        _shown = new double[vehicle.Sensors.Length];
        Moving = new bool[_said.Length];
    }

    public FleetVehicle Vehicle { get; }

    public DayFaults Faults { get; }

    public CircuitSense Sense { get; }

    public DayDevice? Device { get; }

    /// <summary>Axles between positions.</summary>
    public bool[] Moving { get; }

    public RideHeight Height { get; private set; }

    /// <summary>How much of the load the bellows lacked when levelling began, and when that was in the day.</summary>
    public (double Part, double Second) Unlevel { get; private set; }

    public void Release(Moment now) => _network.Release(now, _queue);

    public void Dump() => Height = RideHeight.Dumped;

    public void LevelFrom(double second)
    {
        Unlevel = (Height == RideHeight.Normal ? 0.03 : 1, second);
        Height = RideHeight.Normal;
    }

    public void Start(Moment at, double second)
    {
        Array.Clear(_said);
        (_reported, _fuel) = (null, -1);
        if (Device is null) return;
        Device.ClockAhead = ClockAhead(second);
        Device.Start(at);
    }

    public void Stop(Moment at)
    {
        Device?.Stop(at);
        _network.Finish(_queue);
    }

    /// <summary>One sample; nothing of a vehicle without a device.</summary>
    public void Say(Moment at, Rig rig, in Said said)
    {
        if (Device is not { On: true } device) return;
        device.ClockAhead = ClockAhead(said.Felt.Seconds);
        Sense.Sense(rig, said.Body, said.Felt, _shown);
        if (device.Habits.Frames) Together(device, at, rig, said);
        else Apart(device, at, rig, said);
    }

    /// <summary>Says at once what hangs on the vehicle.</summary>
    public void Couple(Moment at, IEnumerable<string> trailers)
    {
        if (Device is null) return;
        var json = Device.Begin(UpStream.Coupling, at);
        json.WriteStartArray("trailers");
        foreach (var trailer in trailers) json.WriteStringValue(trailer);
        json.WriteEndArray();
        Device.End(UpStream.Coupling, at);
    }

    private int ClockAhead(double second) => second < Faults.SlowFor ? Faults.ClockOffset - Faults.SlowBy : Faults.ClockOffset;

    private void Together(DayDevice device, Moment at, Rig rig, in Said said)
    {
        var json = device.Begin(UpStream.Frame, at);
        Pressures(json);
        if (LiftNews(rig, said.Body)) SayLifts(json);
        Condition(json, rig, said);
        if (said.Position is { } position) FrameSample.Position(json, position);
        device.End(UpStream.Frame, at);
    }

    private void Apart(DayDevice device, Moment at, Rig rig, in Said said)
    {
        if (_shown.Length > 0)
        {
            Pressures(device.Begin(UpStream.Pressure, at));
            device.End(UpStream.Pressure, at);
        }

        if (LiftNews(rig, said.Body))
        {
            SayLifts(device.Begin(UpStream.Lift, at.Plus(LiftAfter)));
            device.End(UpStream.Lift, at.Plus(LiftAfter));
        }

        if (_reported != said.Report || said.Wheels is not null)
        {
            Condition(device.Begin(UpStream.Condition, at.Plus(ConditionAfter)), rig, said);
            device.End(UpStream.Condition, at.Plus(ConditionAfter));
        }

        if (said.Position is not { } position) return;
        FrameSample.Position(device.Begin(UpStream.Position, at.Plus(PositionAfter)), position);
        device.End(UpStream.Position, at.Plus(PositionAfter));
    }

    private void Pressures(Utf8JsonWriter json)
    {
        if (_shown.Length == 0) return;
        json.WriteStartObject("kpa");
        for (var i = 0; i < _shown.Length; i++)
            if (!double.IsNaN(_shown[i]))
                json.WriteNumber(Vehicle.Description.Sensors[i].Key, _shown[i]);
        json.WriteEndObject();
    }

    private bool LiftNews(Rig rig, int body)
    {
        var news = false;
        for (var i = 0; i < _said.Length; i++)
        {
            if (Vehicle.Description.Axles[i].Lift is null) continue;
            var now = Report(rig.Configuration[rig.Described.Bodies[body].FirstAxle + i], Moving[i]);
            news |= _said[i] != now;
            _said[i] = now;
        }

        return news;
    }

    private LiftReport Report(AxleState state, bool moving)
    {
        if (Faults.Has(FaultKind.LiftSwitchLies)) return state == AxleState.Raised ? LiftReport.Lowered : LiftReport.Raised;
        if (moving) return LiftReport.Moving;
        return state == AxleState.Raised ? LiftReport.Raised : LiftReport.Lowered;
    }

    private void SayLifts(Utf8JsonWriter json)
    {
        json.WriteStartObject("axles");
        for (var i = 0; i < _said.Length; i++)
            if (_said[i] is { } lift)
                json.WriteString(Vehicle.Description.Axles[i].Key, Lifts[(int)lift]);
        json.WriteEndObject();
    }

    private void Condition(Utf8JsonWriter json, Rig rig, in Said said)
    {
        FrameSample.News(json, rig.Described.Bodies[said.Body], _reported, said.Report);
        _reported = said.Report;
        if (said.Wheels is { } wheels) json.WriteNumber("wheel_speed_mps", wheels);
        if (said.Fuel is not { } fuel || fuel == _fuel) return;
        _fuel = fuel;
        json.WriteNumber("fuel_l", fuel);
    }
}

/// <summary>What there is to say of a vehicle at a moment.</summary>
/// <param name="Body">Which body of the combination it is.</param>
/// <param name="Felt">What its suspension feels.</param>
/// <param name="Report">What it reports of itself.</param>
/// <param name="Wheels">Speed of the wheels where it is reported, m/s.</param>
/// <param name="Fuel">Litres, where reported.</param>
/// <param name="Position">Where the receiver sees it; a trailer has none.</param>
internal readonly record struct Said(int Body, Felt Felt, SelfReport Report, double? Wheels, int? Fuel, PositionReport? Position);
