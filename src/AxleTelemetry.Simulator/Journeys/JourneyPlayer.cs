using System.Collections.Immutable;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Journeys;

/// <summary>Plays a journey second by second. The same script gives the same moments, bit by bit.</summary>
public sealed class JourneyPlayer
{
    private const double StretchAfterSeconds = 60;

    private readonly JourneyScript _script;
    private readonly RoadTravel _travel;
    private readonly BellowsSense _bellows;
    private readonly double[] _payload;
    private readonly LiftReport?[] _lifts;
    private readonly LiftReason[] _reasons;
    private readonly RideHeight[] _heights;
    private readonly SelfReport[] _reports;
    private Configuration _configuration;
    private bool _heard = true;
    private bool _wheelSpeed;
    private double? _ambient;
    private double _seconds;
    private double _stoodSeconds;
    private double _rolledFrom;

    private JourneyPlayer(JourneyScript script)
    {
        _script = script;
        var random = new SeededRandom(script.Seed);
        _travel = new RoadTravel(random.Fork());
        _bellows = new BellowsSense(script, random.Fork());
        _payload = new double[script.Combination.StateSize];
        _reasons = new LiftReason[script.Combination.Axles.Length];
        _lifts = [.. script.Combination.Axles.Select(a => a.Axle.Lift is null ? (LiftReport?)null : LiftReport.Lowered)];
        _heights = new RideHeight[script.Combination.Bodies.Length];
        _reports = new SelfReport[script.Combination.Bodies.Length];
    }

    /// <summary>The moments of a journey, one a second. Everything begins lowered, empty and standing.</summary>
    public static IEnumerable<JourneyMoment> Play(JourneyScript script) => new JourneyPlayer(script).Moments();

    private IEnumerable<JourneyMoment> Moments()
    {
        for (var i = 0; i < _script.Steps.Length; i++)
        {
            var step = _script.Steps[i];
            if (step.TakesTime)
                foreach (var moment in Pass(step, i))
                    yield return moment;
            else Change(step);
        }
    }

    private IEnumerable<JourneyMoment> Pass(JourneyStep step, int index) => step switch
    {
        JourneyStep.Drive drive => Drive(drive, !RollsOn(index)),
        JourneyStep.Stand stand => Stand(stand.Seconds, _ => { }),
        JourneyStep.Carry carry => Carry(carry),
        JourneyStep.Load load => Fill(load),
        _ => throw new InvalidOperationException($"No time passes with {step}."),
    };

    private bool RollsOn(int index) => _script.Steps.Skip(index + 1).FirstOrDefault(s => s.TakesTime) is JourneyStep.Drive;

    private IEnumerable<JourneyMoment> Drive(JourneyStep.Drive drive, bool endsStanding)
    {
        if (_stoodSeconds >= StretchAfterSeconds) _bellows.BeginStretch();
        if (_stoodSeconds > 0) _rolledFrom = _travel.Odometer;
        _stoodSeconds = 0;
        var end = _travel.Odometer + drive.Metres;
        var spread = _script.Combination.Bodies.FirstOrDefault(b => b.StateIndex >= 0);
        do
        {
            var before = _travel.Odometer;
            _travel.Roll(drive.Speed, end - before, endsStanding, drive.Grade, drive.Bends);
            if (drive.GivenOff > 0) GiveOff(spread!, drive.GivenOff * (_travel.Odometer - before) / drive.Metres);
            yield return Now(_travel.Speed, drive.GivenOff > 0);
        }
        while (endsStanding ? _travel.Speed > 0 : _travel.Odometer < end);
    }

    private void GiveOff(BodyPart body, double kilograms)
    {
        var centre = _payload[body.StateIndex] > 0 ? _payload[body.StateIndex + 1] / _payload[body.StateIndex] : 0;
        _payload[body.StateIndex] = Math.Max(0, _payload[body.StateIndex] - kilograms);
        _payload[body.StateIndex + 1] = _payload[body.StateIndex] * centre;
    }

    private IEnumerable<JourneyMoment> Stand(double seconds, Action<double> each)
    {
        for (var second = 1; second <= seconds; second++)
        {
            _stoodSeconds++;
            each(second / seconds);
            _travel.Stand();
            yield return Now(0, false);
        }
    }

    private IEnumerable<JourneyMoment> Carry(JourneyStep.Carry carry)
    {
        for (var second = 1; second <= carry.Seconds; second++)
        {
            // A ship takes half a minute to leave and to come alongside.
            _travel.Carry(carry.Speed * Math.Min(1, Math.Min(second, carry.Seconds - second) / 30));
            yield return Now(0, false);
        }
    }

    private IEnumerable<JourneyMoment> Fill(JourneyStep.Load load)
    {
        var at = _script.Combination.Bodies[load.Body].StateIndex;
        double mass = _payload[at], moment = _payload[at + 1];
        return Stand(load.Seconds, part =>
        {
            _payload[at] = mass + part * (load.Kilograms - mass);
            _payload[at + 1] = moment + part * (load.Kilograms * load.Centre - moment);
        });
    }

    private void Change(JourneyStep step)
    {
        switch (step)
        {
            case JourneyStep.Load load:
                var at = _script.Combination.Bodies[load.Body].StateIndex;
                _payload[at] = load.Kilograms;
                _payload[at + 1] = load.Kilograms * load.Centre;
                break;
            case JourneyStep.Lift lift:
                if (lift.Said) (_lifts[lift.Axle], _reasons[lift.Axle]) = (lift.To, lift.Reason);
                if (lift.Done) _configuration = _configuration.With(lift.Axle, StateOf(lift.To));
                break;
            case JourneyStep.Ride ride:
                _heights[ride.Body] = ride.Height;
                if (ride.Said) _reports[ride.Body] = _reports[ride.Body] with { RideOff = ride.Height != RideHeight.Normal };
                break;
            case JourneyStep.Mode mode:
                _configuration = _configuration.WithMode(mode.Body, mode.Index);
                _reports[mode.Body] = _reports[mode.Body] with { Mode = mode.Index };
                break;
            case JourneyStep.Fault fault: _bellows.Begin(fault.Sensor, fault.To); break;
            case JourneyStep.Report { What: Reported.Everything } report: _heard = report.On; break;
            case JourneyStep.Report { What: Reported.WheelSpeed } report: _wheelSpeed = report.On; break;
            case JourneyStep.Ambient ambient: _ambient = ambient.Celsius; break;
            case JourneyStep.Altitude altitude: _travel.Altitude = altitude.Metres; break;
            default: throw new InvalidOperationException($"Nothing changes with {step}.");
        }
    }

    internal static AxleState StateOf(LiftReport report) => report switch
    {
        LiftReport.Raised => AxleState.Raised,
        LiftReport.Unloaded => AxleState.Unloaded,
        _ => AxleState.Loaded,
    };

    private JourneyMoment Now(double wheels, bool powerTakeOff)
    {
        var motion = wheels > 0
            ? new RoadMotion(_travel.Acceleration / RoadMotion.Gravity + Math.Sin(Math.Atan(_travel.Grade)), wheels, true)
            : default;
        var loads = DenseStatics.Settle(_script.Truth, _configuration, _payload, motion) switch
        {
            StaticsResult.Stands stands => stands.Loads,
            StaticsResult.Falls falls => throw new InvalidOperationException($"{At()}: {falls.Reason}"),
            _ => throw new InvalidOperationException("Statics have no third result."),
        };
        var moment = new JourneyMoment
        {
            At = At(),
            Configuration = _configuration,
            Payload = [.. _payload],
            Speed = _travel.Speed,
            Odometer = _travel.Odometer,
            Heard = _heard,
            Pressures = _bellows.Sense(loads, _heights, wheels, _travel.Odometer - _rolledFrom, _travel.Altitude),
            Lifts = [.. _lifts],
            Reasons = [.. _reasons],
            Reports = [.. _reports.Select((r, body) => Report(r, body, wheels, powerTakeOff))],
            Position = _travel.Report(),
        };
        _seconds++;
        return moment;
    }

    private SelfReport Report(SelfReport kept, int body, double wheels, bool powerTakeOff)
    {
        if (body > 0) return kept;
        return kept with
        {
            ServiceBrake = wheels > 0 && _travel.Braking,
            ParkingBrake = _stoodSeconds > 10,
            PowerTakeOff = powerTakeOff,
            WheelSpeed = _wheelSpeed ? Math.Round(wheels, 2) : null,
            Ambient = _ambient,
        };
    }

    private Domain.Quantities.Moment At() => _script.Start.Plus(_seconds);
}
