using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Hauling;
using AxleTelemetry.Simulator.Journeys;
using AxleTelemetry.Simulator.Routes;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Days;

/// <summary>Plays one day of one vehicle, second by second. The same vehicle and day give the same output, bit by bit.</summary>
internal sealed partial class DayPlayer
{
    private const int Purpose = 0, SecondsOfDay = 86_400, TruthEvery = 10, LiftSeconds = 6;
    private const double FuelPerMetre = 0.00025, FuelDensity = 0.84, FuelStep = 3, WindSd = 2.5, StretchAfterSeconds = 60;

    private readonly SimulatedVehicle _vehicle;
    private readonly int _day;
    private readonly SeededRandom _random;
    private readonly SendQueue _queue = new();
    private readonly List<DayOutput> _output = [];
    private readonly Dictionary<string, DayVehicle> _known = [];
    private readonly IReadOnlyList<Act> _acts;
    private readonly Driver _driver;
    private readonly Receiver _receiver;
    private readonly LegCount _leg = new();
    private readonly Moment _start;
    private readonly double _crew;
    private readonly double _ambient;
    private DayVehicle[] _on = [];
    private Rig _rig;
    private double[] _before = [];
    private double _fuel;
    private double _served;
    private double _wind;
    private double _wheels;
    private double _stood = StretchAfterSeconds;
    private double _rolledFrom;
    private int _second;
    private bool _tipping;

    private DayPlayer(SimulatedVehicle vehicle, int day)
    {
        _vehicle = vehicle;
        _day = day;
        _random = vehicle.Lead.On(day, Purpose);
        _start = vehicle.Plan.Start.Plus(SecondsOfDay * (double)day + _random.Whole(vehicle.Plan.WorkBegins.Earliest, vehicle.Plan.WorkBegins.Latest));
        _crew = _random.Between(75, 200);
        _fuel = _random.Between(20, 400);
        _ambient = Math.Round(_random.Between(-8, 28));
        var trailers = vehicle.On(day);
        _driver = new Driver(vehicle.Route.Road, DayPlan.Depot, _random.Fork());
        _receiver = new Receiver(_random.Fork(), vehicle.Plan.Noise);
        _acts = DayPlan.Draw(vehicle, trailers, _random.Fork(), t => Joined(t).Truth);
        _rig = Joined([.. trailers.Take(1)]);
        Join();
    }

    /// <summary>What comes of the day, as it happens.</summary>
    public static IEnumerable<DayOutput> Play(SimulatedVehicle vehicle, int day) => new DayPlayer(vehicle, day).Outputs();

    private Moment Now => _start.Plus(_second);

    private IEnumerable<DayOutput> Outputs()
    {
        foreach (var vehicle in _on) vehicle.Start(Now, _second);
        _on[0].Couple(Now, _rig.Ids.Skip(1));
        AdjustLifts(atOnce: true);
        Tell();
        foreach (var act in _acts)
        {
            Do(act);
            foreach (var output in Taken()) yield return output;
        }

        EndLeg();
        Tell();
        foreach (var vehicle in _on) vehicle.Stop(Now);
        foreach (var output in Taken()) yield return output;
        foreach (var message in _queue.Until(new Moment(long.MaxValue))) yield return new DayOutput.Sent(message);
    }

    private DayOutput[] Taken()
    {
        DayOutput[] taken = [.. _output];
        _output.Clear();
        return taken;
    }

    private void Do(Act act)
    {
        switch (act)
        {
            case Act.Drive drive: Drive(drive.To); break;
            case Act.Stand stand: Stand(stand.Seconds); break;
            case Act.Load load: Load(load); break;
            case Act.Couple couple: Couple(couple); break;
            default: throw new InvalidOperationException($"Nobody does {act}.");
        }
    }

    /// <summary>The powered vehicle with some trailers as they are today: fuel and crew as they stand now.</summary>
    private Rig Joined(ImmutableArray<FleetVehicle> trailers)
    {
        _served = _crew + _fuel;
        return new Rig(trailers.Insert(0, _vehicle.Lead), _vehicle.Plan.Errors ? _served : null);
    }

    private void Join()
    {
        _on = [.. _rig.Vehicles.Select(Known)];
        _before = [.. _rig.Payload];
    }

    private DayVehicle Known(FleetVehicle vehicle)
    {
        if (!_known.TryGetValue(vehicle.Id, out var known)) _known[vehicle.Id] = known = new DayVehicle(vehicle, _vehicle.Plan, (_day, _start, _queue));
        return known;
    }

    private void Tell() => _output.Add(new DayOutput.True(new TruthRecord.Now
    {
        At = Now,
        Vehicles = _rig.Ids,
        Payloads = _rig.Aboard(_before),
        Axles = LegCount.AxlesOf(_rig, _rig.Level),
        Couplings = _rig.Couplings(),
        GrossKilograms = Enumerable.Range(0, _rig.Described.Axles.Length).Sum(_rig.Level),
        Speed = _driver.Speed,
        Motion = Motion(),
        Latitude = _driver.Place.Latitude,
        Longitude = _driver.Place.Longitude,
        Faults = [.. _on.SelectMany(v => v.Faults.Active(_second))],
    }));

    private void EndLeg()
    {
        if (_leg.End(Now, _rig, _driver.Odometer) is { } leg) _output.Add(new DayOutput.True(leg));
    }

    private RoadMotion Motion() => _wheels > 0
        ? new RoadMotion(_driver.Acceleration / RoadMotion.Gravity + Math.Sin(Math.Atan(_driver.Place.Grade)), Math.Max(0, _wheels + _wind), true)
        : default;

    /// <summary>One second passes; the driver has moved.</summary>
    private void Tick(bool wheels)
    {
        _second++;
        _wheels = wheels ? _driver.Speed : 0;
        foreach (var vehicle in _on) Begin(vehicle);
        if (wheels) _leg.Roll(Now, _rig, _driver.Odometer);
        if (_second % _vehicle.Plan.EverySeconds == 0) Sample();
        foreach (var vehicle in _on) vehicle.Release(Now);
        foreach (var message in _queue.Until(Now)) _output.Add(new DayOutput.Sent(message));
        if (_second % TruthEvery == 0 && _driver.Speed > 0) Tell();
    }

    private void Begin(DayVehicle vehicle)
    {
        if (_second == vehicle.Faults.FromSecond && vehicle.Faults.Sensed is not SensorFault.None) vehicle.Sense.Begin(vehicle.Faults.Sensor, vehicle.Faults.Sensed);
    }

    private void Sample()
    {
        var place = _driver.Place;
        var motion = Motion();
        for (var body = 0; body < _on.Length; body++)
        {
            var vehicle = _on[body];
            var lead = body == 0;
            var felt = new Felt(
                _second, motion, _wheels, _driver.Odometer - _rolledFrom, place.Road.Roughness(), place.Altitude,
                vehicle.Height, vehicle.Unlevel.Part, _second - vehicle.Unlevel.Second);
            var report = new SelfReport(
                vehicle.Height != RideHeight.Normal, 0, lead && _wheels > 0 && _driver.Braking, lead && _stood > 10, lead && _tipping, null, lead ? _ambient : null);
            vehicle.Say(Now, _rig, new Said(
                body, felt, report, lead && _vehicle.Lead.Habits!.WheelSpeed ? Math.Round(_wheels, 2) : null,
                lead && _vehicle.Lead.Habits!.Fuel && _vehicle.Plan.Errors ? (int)(_fuel / FuelDensity / 5) * 5 : null,
                lead ? _receiver.See(place, _driver.Speed) : null));
        }
    }
}
