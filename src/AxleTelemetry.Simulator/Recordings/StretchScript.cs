using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Journeys;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Recordings;

/// <summary>Draws what happens in a stretch: stops at which loads and lifts change, drives between, a fault or silence now and then.</summary>
internal sealed class StretchScript
{
    private const double Spare = 240, MovingSeconds = 4;

    private readonly Stretch.Driven _stretch;
    private readonly ImmutableArray<FleetUnit> _units;
    private readonly SeededRandom _random;
    private readonly Combination _combination;
    private readonly StandingCheck _check;
    private readonly ImmutableArray<JourneyStep>.Builder _steps = ImmutableArray.CreateBuilder<JourneyStep>();
    private double _left;

    private StretchScript(Stretch.Driven stretch, ImmutableArray<FleetUnit> units, SeededRandom random)
    {
        _stretch = stretch;
        _units = units;
        _random = random;
        _left = stretch.Seconds - Spare;
        _combination = Combination.Couple(stretch.Vehicles) is CouplingResult.Coupled coupled
            ? coupled.Combination
            : throw new InvalidOperationException($"{stretch} cannot be coupled.");
        _check = new StandingCheck(new TrueCombination(_combination, [.. units.Select(u => u.Truth)]), units);
    }

    /// <summary>The script. What the vehicles carry at its end is left in the units.</summary>
    public static JourneyScript Draw(Stretch.Driven stretch, ImmutableArray<FleetUnit> units, SeededRandom random)
    {
        var draw = new StretchScript(stretch, units, random);
        draw.Fill();
        return new JourneyScript
        {
            Combination = draw._combination,
            Truth = draw._check.Truth,
            Sensors = [.. units.SelectMany(u => u.Sensors)],
            Fits = [.. draw._combination.Sensors.Select(s => s.Sensor.Handbook)],
            Trip = LimitContext.Undeclared,
            Seed = random.Next(),
            Start = stretch.From,
            Steps = draw._steps.ToImmutable(),
        };
    }

    private void Fill()
    {
        Begin();
        while (_left > 0)
        {
            var faulty = _random.Chance(0.08) && _combination.Sensors.Length > 0;
            var sensor = faulty ? _random.Whole(0, _combination.Sensors.Length - 1) : 0;
            if (faulty) _steps.Add(new JourneyStep.Fault(sensor, Fault()));
            Drive();
            if (faulty) _steps.Add(new JourneyStep.Fault(sensor, new SensorFault.None()));
            if (_random.Chance(0.25)) Stand(30, 100);
            else Change();
        }

        _steps.Add(new JourneyStep.Stand(_stretch.Seconds));
    }

    private void Begin()
    {
        if (!_check.Holds()) Settle();
        foreach (var body in _combination.Bodies.Where(b => b.StateIndex >= 0)) _steps.Add(Load(body.Index, 0));
        foreach (var axle in _combination.Axles.Where(a => a.Axle.Lift is not null)) Move(axle, LiftOf(axle)!.Value);
        if (_units[0].Device.Habits.WheelSpeed) _steps.Add(new JourneyStep.Report(Reported.WheelSpeed, true));
        if (_random.Chance(0.4)) _steps.Add(new JourneyStep.Ambient(Math.Round(_random.Between(-10, 30))));
        Change();
    }

    // What stood behind another tractor may not stand behind this one; and an axle with a force of its own lifts an empty body.
    private void Settle()
    {
        foreach (var emptied in (bool[])[false, true])
        {
            foreach (var unit in _units.Where(_ => emptied)) unit.Kilograms = 0;
            foreach (var to in (LiftReport[])[LiftReport.Lowered, LiftReport.Raised])
            {
                foreach (var axle in _combination.Axles.Where(a => a.Axle.Lift is not null)) LiftOf(axle) = to;
                if (_check.Holds()) return;
            }
        }

        throw new InvalidOperationException($"{_combination.Id} cannot be driven, not even empty.");
    }

    private void Drive()
    {
        var seconds = _random.Between(180, 900);
        var speed = _random.Between(11, 24);
        var grade = _random.Chance(0.3) ? _random.Between(-0.03, 0.03) : 0;
        var liftable = _combination.Axles.Where(a => a.Axle.Lift is not null).ToArray();
        var early = liftable.Length > 0 && _random.Chance(0.15) ? _random.Between(0.3, 0.7) : 0;
        var metres = seconds * speed;
        if (early > 0)
        {
            _steps.Add(new JourneyStep.Drive(metres * early, speed, grade, false, 0));
            // On the move axles are lowered, never raised.
            var axle = _random.Pick<AxlePart>(liftable);
            if (Try(axle, LiftReport.Lowered)) Move(axle, LiftReport.Lowered);
        }

        _steps.Add(new JourneyStep.Drive(metres * (1 - early), speed, grade, _random.Chance(0.1), 0));
        _left -= seconds + 50;
    }

    private void Change()
    {
        var silent = _random.Chance(0.1);
        Stand(20, 120);
        if (silent) _steps.Add(new JourneyStep.Report(Reported.Everything, false));
        foreach (var body in _combination.Bodies.Where(b => b.StateIndex >= 0))
            if (_random.Chance(0.7))
                Reload(body);
        if (silent) _steps.Add(new JourneyStep.Report(Reported.Everything, true));
        Stand(10, 60);
        foreach (var axle in _combination.Axles.Where(a => a.Axle.Lift is not null))
            if (_random.Chance(0.6))
                Relift(axle);
        Stand(60, 150);
    }

    private void Reload(BodyPart body)
    {
        var unit = _units[body.Index];
        var space = body.Vehicle.LoadSpace!;
        var (kilograms, centre) = (unit.Kilograms, unit.Centre);
        unit.Kilograms = _random.Chance(0.15) ? 0 : _random.Between(0.1, 1.15) * space.Permitted.Kilograms;
        var middle = space.ExpectedCentre?.Metres ?? (space.Front.Metres + space.Rear.Metres) / 2;
        unit.Centre = Math.Clamp(middle + _random.Normal(0.4), space.Front.Metres, space.Rear.Metres);
        if (!_check.Holds()) (unit.Kilograms, unit.Centre) = (kilograms, centre);
        var seconds = Math.Round(_random.Between(60, 400));
        _steps.Add(Load(body.Index, seconds));
        _left -= seconds;
    }

    private void Relift(AxlePart axle)
    {
        LiftReport[] to = axle.Axle.Lift!.CanUnload
            ? [LiftReport.Lowered, LiftReport.Loaded, LiftReport.Raised, LiftReport.Raised, LiftReport.Unloaded]
            : [LiftReport.Lowered, LiftReport.Raised];
        var chosen = _random.Pick<LiftReport>(to);
        if (!Try(axle, chosen)) return;
        _steps.Add(new JourneyStep.Lift(axle.Index, LiftReport.Moving, Said: true, Done: false));
        _steps.Add(new JourneyStep.Stand(MovingSeconds));
        Move(axle, chosen);
        _left -= MovingSeconds;
    }

    private bool Try(AxlePart axle, LiftReport to)
    {
        ref var lift = ref LiftOf(axle);
        var before = lift;
        lift = to;
        if (_check.Holds()) return true;
        lift = before;
        return false;
    }

    private ref LiftReport? LiftOf(AxlePart axle) => ref _units[axle.Body].Lifts[axle.Index - _combination.Bodies[axle.Body].FirstAxle];

    private void Move(AxlePart axle, LiftReport to) => _steps.Add(new JourneyStep.Lift(axle.Index, to, Said: true, Done: true));

    private JourneyStep.Load Load(int body, double seconds) => new(body, _units[body].Kilograms, _units[body].Centre, seconds);

    private void Stand(double least, double most)
    {
        var seconds = Math.Round(_random.Between(least, most));
        _steps.Add(new JourneyStep.Stand(seconds));
        _left -= seconds;
    }

    private SensorFault Fault() => _random.Whole(0, 3) switch
    {
        0 => new SensorFault.Stuck(null),
        1 => new SensorFault.Dead(),
        2 => new SensorFault.Step(Math.Round(_random.Between(-80, 80))),
        _ => new SensorFault.Drift(_random.Between(-4, 4)),
    };
}
