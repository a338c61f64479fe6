using System.Numerics;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>
/// One combination in time. Takes its readings in their order (moment, stream, key) and says what follows. Deterministic:
/// the same readings give the same state, bit by bit, and the same outputs. Nothing is allocated while nothing is said.
/// </summary>
public sealed class Lane
{
    private readonly LoadFollower _loads;
    private readonly Judgement _judgement;
    private readonly InstrumentWatch _instruments;
    private readonly LiftWatch _lifts;
    private readonly SilenceWatch _silence;
    private readonly RunningAccount _account;
    private readonly PlaceWatch _places;
    private readonly EpisodeTeller _teller;

    /// <summary>Opens a lane that has seen nothing.</summary>
    public Lane(LaneSetup setup)
    {
        Setup = setup;
        State = new LaneState(setup.Estimator, setup.Catalog.Keys.Length);
        setup.Estimator.BeginLoad(State.Payload);
        State.Load.MayHaveChanged = 1;
        var choices = new Choices(setup, State);
        _account = new RunningAccount(setup, State, choices);
        var teller = new EpisodeTeller(setup, State);
        var border = new BorderLaw(setup, State, teller);
        _teller = teller;
        _judgement = new Judgement(setup, State, choices, _account, border);
        _places = new PlaceWatch(setup, State, border, _judgement);
        _instruments = new InstrumentWatch(setup, State, teller);
        _lifts = new LiftWatch(setup, State, teller);
        _silence = new SilenceWatch(setup, State, teller);
        _loads = new LoadFollower(setup, State, _judgement, _instruments, new StepScreen(setup, State, teller), _account);
    }

    /// <summary>What does not change.</summary>
    public LaneSetup Setup { get; }

    /// <summary>What does.</summary>
    public LaneState State { get; }

    /// <summary>The configuration as reported, corrected by what pressure says of relieved axles.</summary>
    public Configuration Configuration => ConfigurationRule.Now(Setup, State);

    /// <summary>How it moves at the latest reading.</summary>
    public Movement Movement => MotionTracker.Now(State.Motion, State.Motion.LastReadingAt);

    /// <summary>Takes one reading of one body; outputs are appended.</summary>
    /// <param name="body">Body that reports, 0 = powered unit.</param>
    /// <param name="reading">The reading; its key counts within the body's own description.</param>
    /// <param name="outputs">Receives what follows.</param>
    public void Step(int body, in Reading reading, List<LaneOutput> outputs)
    {
        // A stand-in has no parts. Once it is described it speaks, and history is run again with the true trailer.
        if (Setup.HasStandIn && Setup.Combination.Bodies[body].Vehicle.IsStandIn) return;
        var at = reading.At.UnixMilliseconds;
        _account.NoticeDay(at, outputs);
        _loads.NoticeGap(at, outputs);
        State.Conditions[body].HeardAt = at;
        if (Setup.HasStandIn) TellStandIns(at, outputs);
        switch (reading.Kind)
        {
            case ReadingKind.Pressure:
                TakePressure(Setup.Combination.Bodies[body].FirstSensor + reading.Key, at, reading.Value, outputs);
                break;
            case ReadingKind.Lift:
                TakeLift(Setup.Combination.Bodies[body].FirstAxle + reading.Key, at, LiftWord.Of(reading.Value), outputs);
                break;
            case ReadingKind.Condition:
                TakeCondition(body, at, (ConditionKey)reading.Key, reading.Value, outputs);
                break;
            case ReadingKind.Position:
                // A trailer's own position says nothing that the powered unit's does not.
                if (body == 0) TakePosition(at, (PositionKey)reading.Key, reading.Value, outputs);
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(reading), reading.Kind, "Unknown kind of reading.");
        }

        if (at > State.Motion.LastReadingAt) State.Motion.LastReadingAt = at;
    }

    /// <summary>Others claim trailers that the powered vehicle says hang on it, or do no more.</summary>
    internal void Claim(TrailerClaims claims, long at, List<LaneOutput> outputs)
    {
        State.Load.Claims = (long)claims;
        _teller.Tell(Setup.Catalog.TrailerClaimedTwice, claims != TrailerClaims.Undisputed, 1, at, outputs);
    }

    /// <summary>Trailers without a description, each once.</summary>
    internal void TellStandIns(long at, List<LaneOutput> outputs)
    {
        for (var slot = Setup.Catalog.Undescribed; slot < Setup.Catalog.Keys.Length; slot++)
            if (!_teller.IsOpen(slot))
                _teller.Tell(slot, true, 1, at, outputs);
    }

    /// <summary>The country is looked up anew where a position is known.</summary>
    internal void TakePlace() => _places.LookUp(State.Motion.PositionAt);

    /// <summary>The vehicles are parted: what is open of the account is told.</summary>
    internal void CloseAccount(long at, List<LaneOutput> outputs) => _account.Close(at, outputs);

    /// <summary>The vehicles were coupled: their account begins.</summary>
    internal void OpenAccount(long at) => _account.Begin(at);

    private void TakePressure(int sensor, long at, double pressure, List<LaneOutput> outputs)
    {
        _silence.Heard(sensor, at, outputs);
        if (PressureTracker.Take(ref State.Sensors[sensor], at, pressure)) AfterBlock(sensor, at, outputs);
        _loads.TakePressure(sensor, at, pressure);
    }

    private void AfterBlock(int sensor, long at, List<LaneOutput> outputs)
    {
        var before = Configuration;
        _instruments.AfterBlock(sensor, at, outputs);
        _lifts.AfterBlock(sensor, at, outputs);
        if (Configuration == before) return;
        Reconfigured(at, outputs);
        // What settled while a switch was believed that lies was taken for the wrong axles.
        var disputed = before.Raised & ~Configuration.Raised;
        if (disputed != 0) _loads.NoticeLie(State.Axles[BitOperations.TrailingZeroCount(disputed)].ChangedAt, at, outputs);
    }

    private void TakeLift(int axle, long at, LiftWord word, List<LaneOutput> outputs)
    {
        ref var state = ref State.Axles[axle];
        if (ReasonRule.Take(ref state, word, at)) _judgement.Excuse(axle, at, outputs);
        var report = word.Report;
        if (state.Known != 0 && state.Report == report) return;
        var before = Configuration;
        var moved = state.Known != 0;
        // Of a movement that was under way at the first word nobody knows whence it came, nor since when.
        var seen = moved && (state.ChangedAt != 0 || IsPlace(state.Report));
        var wasMoving = state.Report == LiftReport.Moving;
        state.Known = 1;
        state.Report = report;
        if (IsPlace(report))
        {
            if (seen) _account.Lifted(axle, state.Definite, report, wasMoving ? MotionTracker.Seconds(state.ChangedAt, at) : null);
            state.Definite = report;
        }

        if (moved) state.ChangedAt = at;
        _lifts.Reported(axle, at, outputs);
        if (Configuration != before) Reconfigured(at, outputs);
        else if (moved) _loads.Disturb();
    }

    private static bool IsPlace(LiftReport report) => report is not (LiftReport.Moving or LiftReport.Unknown);

    private void TakeCondition(int body, long at, ConditionKey key, double value, List<LaneOutput> outputs)
    {
        var before = Configuration;
        switch (key)
        {
            case ConditionKey.WheelSpeed:
                if (body != 0) return;
                var stood = State.Motion.StandsSince;
                MotionTracker.TakeWheelSpeed(ref State.Motion, at, value);
                TakeSpeed(stood, at, outputs);
                break;
            case ConditionKey.Fuel:
                if (body == 0) FuelCount.Take(Setup, State, value);
                break;
            case ConditionKey.ServiceBrake:
                if (value != 0) State.Motion.BrakedAt = at;
                ConditionRule.Take(ref State.Conditions[body], at, key, value);
                break;
            default:
                ConditionRule.Take(ref State.Conditions[body], at, key, value);
                break;
        }

        if (ConditionRule.MayChangeLoad(State.Conditions[body])) _loads.NoticeWork(at, outputs);
        if (Configuration != before) Reconfigured(at, outputs);
    }

    private void TakePosition(long at, PositionKey key, double value, List<LaneOutput> outputs)
    {
        ref var motion = ref State.Motion;
        switch (key)
        {
            case PositionKey.Latitude:
                motion.Latitude = value;
                motion.PositionAt = at;
                break;
            case PositionKey.Longitude:
                motion.Longitude = value;
                break;
            case PositionKey.Altitude:
                MotionTracker.TakeAltitude(ref motion, at, value);
                break;
            case PositionKey.Heading:
                MotionTracker.TakeHeading(ref motion, at, value);
                break;
            case PositionKey.Accuracy:
                motion.Accuracy = value;
                break;
            case PositionKey.Speed:
                var stood = motion.StandsSince;
                MotionTracker.TakeSpeed(ref motion, at, value);
                if (motion.PositionAt == at) _places.Take(at, outputs);
                _instruments.TakeMovement(at, outputs);
                TakeSpeed(stood, at, outputs);
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(key), key, "Unknown key of a position.");
        }
    }

    private void TakeSpeed(long stood, long at, List<LaneOutput> outputs)
    {
        _silence.TakeSpeed(at, outputs);
        _loads.TakeSpeed(stood, at, outputs);
        _account.TakeSpeed(at, outputs);
    }

    /// <summary>The loads move at once with the configuration: what is open may close, what may open starts to count anew.</summary>
    private void Reconfigured(long at, List<LaneOutput> outputs)
    {
        _account.Reconfigured();
        _loads.Disturb();
        outputs.Add(new LaneOutput.Configured(new Moment(at), Configuration));
        _judgement.Reconfigured(at, outputs);
    }
}

/// <summary>What a vehicle's own reports mean.</summary>
internal static class ConditionRule
{
    public static void Take(ref ConditionState condition, long at, ConditionKey key, double value)
    {
        var flag = (byte)(value != 0 ? 1 : 0);
        switch (key)
        {
            case ConditionKey.RideHeight:
                if (condition.RideOff != flag) condition.ChangedAt = at;
                condition.RideOff = flag;
                break;
            case ConditionKey.SuspensionMode:
                var mode = (byte)Math.Clamp(value, 0, 15);
                if (condition.Mode != mode) condition.ChangedAt = at;
                condition.Mode = mode;
                break;
            case ConditionKey.ServiceBrake: condition.ServiceBrake = flag; break;
            case ConditionKey.ParkingBrake: condition.ParkingBrake = flag; break;
            case ConditionKey.PowerTakeOff: condition.PowerTakeOff = flag; break;
            case ConditionKey.BodyInUse: condition.BodyInUse = flag; break;
            case ConditionKey.Ambient:
                condition.Ambient = value;
                condition.AmbientKnown = 1;
                break;
            case ConditionKey.Ignition or ConditionKey.WheelSpeed or ConditionKey.Fuel:
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(key), key, "Unknown key of a condition.");
        }
    }

    /// <summary>True while something is at work that loads or unloads.</summary>
    public static bool MayChangeLoad(in ConditionState condition) =>
        condition.PowerTakeOff != 0 || condition.BodyInUse != 0 || condition.RideOff != 0;
}

/// <summary>From reports to a configuration.</summary>
internal static class ConfigurationRule
{
    public static Configuration Now(LaneSetup setup, LaneState state)
    {
        uint raised = 0, unloaded = 0;
        for (var liftable = setup.Liftable; liftable != 0; liftable &= liftable - 1)
        {
            var a = BitOperations.TrailingZeroCount(liftable);
            ref var axle = ref state.Axles[a];
            if (axle.Known == 0) continue;
            if (axle.Definite == LiftReport.Raised)
            {
                if (axle.Disputed == 0) raised |= 1u << a;
            }
            else if (axle.Definite == LiftReport.Unloaded || axle.Relieved != 0) unloaded |= 1u << a;
        }

        ulong modes = 0;
        for (var b = 0; b < state.Conditions.Length; b++) modes |= (ulong)state.Conditions[b].Mode << (4 * b);
        return new Configuration(raised, unloaded, 0, modes);
    }
}
