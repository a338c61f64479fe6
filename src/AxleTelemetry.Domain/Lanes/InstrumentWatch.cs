using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>Watches the sensors and what the vehicle says of itself: what they say is tested before it is believed.</summary>
internal sealed class InstrumentWatch(LaneSetup setup, LaneState state, EpisodeTeller teller)
{
    private const double RoadNoiseFrom = 0.3, StillBelow = 0.02;
    private const double StillSeconds = 30, StillTold = 120;
    private const double NoAirBelow = 30, AirAgainFrom = 45;
    private const int ImpossibleTold = 3, LegsTold = 3;
    private const double SplitTold = 0.05;

    /// <summary>True where the circuit shows no life while others feel the road.</summary>
    public bool IsStill(int sensor, long at)
    {
        var since = state.Sensors[sensor].StillSince;
        return since != 0 && MotionTracker.Seconds(since, at) >= StillSeconds;
    }

    /// <summary>A block of ten seconds of one sensor has ended.</summary>
    public void AfterBlock(int sensor, long at, List<LaneOutput> outputs)
    {
        LookForAir(setup.Combination.Sensors[sensor].Body, at, outputs);
        FeelRoad(at);
        LookForStill(sensor, at, outputs);
    }

    /// <summary>A speed came in.</summary>
    public void TakeMovement(long at, List<LaneOutput> outputs) =>
        teller.Tell(setup.Catalog.Carried, MotionTracker.Now(state.Motion, at) == Movement.Carried, 1, at, outputs);

    /// <summary>Says whether the reported lift states and the estimate go together.</summary>
    public void TellPossible(bool possible, long at, List<LaneOutput> outputs) =>
        teller.Tell(setup.Catalog.NotPossible, !possible, ImpossibleTold, at, outputs);

    /// <summary>A settled reading was taken.</summary>
    public void AfterSettled(ReadOnlySpan<double> departures, long at, List<LaneOutput> outputs)
    {
        foreach (var body in setup.Combination.Bodies)
        {
            var departure = departures[body.Index];
            teller.Tell(setup.Catalog.OfBody(FindingKind.SplitDeparts, body.Index), departure > SplitTold && HasSplit(body), LegsTold, at, outputs, 100 * departure, "%");
            if (body.StateIndex >= 0 && !body.Vehicle.IsStandIn && state.Load.LegReadings == 2) LookAtPayload(body, at, outputs);
        }
    }

    private bool HasSplit(BodyPart body)
    {
        for (var a = body.FirstAxle; a < body.FirstAxle + body.Vehicle.Axles.Length; a++)
            if (state.Known.SensorOf(a) >= 0)
                return true;
        return false;
    }

    private void LookAtPayload(BodyPart body, long at, List<LaneOutput> outputs)
    {
        var p = body.StateIndex;
        var payload = state.Payload.State[p];
        var implausible = payload < -3 * Estimator.SpreadOf(state.Payload, p) || payload > 1.5 * body.Vehicle.LoadSpace!.Permitted.Kilograms;
        teller.Tell(setup.Catalog.OfBody(FindingKind.PayloadImplausible, body.Index), implausible, LegsTold, at, outputs, payload, "kg");
    }

    /// <summary>
    /// Silence counts only where bellows hold air: without air they feel nothing, whatever the wheels do, and 'no air' is what is told.
    /// </summary>
    private void FeelRoad(long at)
    {
        bool felt = false, air = false, none = false;
        for (var s = 0; s < state.Sensors.Length; s++)
        {
            ref var sensor = ref state.Sensors[s];
            if (sensor.MeanAt == 0 || MotionTracker.Seconds(sensor.MeanAt, at) > 2 * SensorState.BlockSeconds || sensor.RoadNoise < 0) continue;
            felt |= sensor.RoadNoise >= RoadNoiseFrom;
            air |= sensor.Mean >= NoAirBelow;
        }

        foreach (ref var condition in state.Conditions.AsSpan()) none |= condition.NoAir != 0;
        if (felt || air) MotionTracker.TakeRoadNoise(ref state.Motion, at, felt);
        // The silence had just begun, and no air explains it. One that lasted was a ferry on which the bellows have leaked.
        else if (none && MotionTracker.Now(state.Motion, at) != Movement.Carried) MotionTracker.TakeRoadNoise(ref state.Motion, at, true);
    }

    private void LookForStill(int index, long at, List<LaneOutput> outputs)
    {
        ref var sensor = ref state.Sensors[index];
        // Once found still it stays under suspicion until it moves: at a stop every sensor is nearly still.
        var air = state.Conditions[setup.Combination.Sensors[index].Body].NoAir == 0;
        if (sensor.RoadNoise is < 0 or >= StillBelow || !Loaded(index) || !air) sensor.StillSince = 0;
        else if (sensor.StillSince == 0 && RollsByAnother(index, at)) sensor.StillSince = at;
        var still = sensor.StillSince != 0 && MotionTracker.Seconds(sensor.StillSince, at) >= StillTold;
        teller.Tell(setup.Catalog.OfSensor(FindingKind.SensorStill, index), still, 1, at, outputs);
    }

    /// <summary>True where wheels or another circuit prove that the vehicle rolls.</summary>
    private bool RollsByAnother(int index, long at)
    {
        if (state.Motion.WheelSpeedAt != 0 && MotionTracker.Seconds(state.Motion.WheelSpeedAt, at) <= 10) return state.Motion.WheelSpeed > 2;
        if (SettledGate.SpeedOf(state.Motion) < 2) return false;
        for (var s = 0; s < state.Sensors.Length; s++)
            if (s != index && state.Sensors[s].RoadNoise >= RoadNoiseFrom && MotionTracker.Seconds(state.Sensors[s].MeanAt, at) <= 2 * SensorState.BlockSeconds)
                return true;
        return false;
    }

    private void LookForAir(int body, long at, List<LaneOutput> outputs)
    {
        ref var condition = ref state.Conditions[body];
        var part = setup.Combination.Bodies[body];
        bool any = false, air = false;
        for (var s = part.FirstSensor; s < part.FirstSensor + part.Vehicle.Sensors.Length; s++)
        {
            if (!Loaded(s) || !PressureTracker.IsKnown(state.Sensors[s], at)) continue;
            any = true;
            // What was found without air must show clearly more than that before it is believed again: an empty trailer is near it.
            air |= state.Sensors[s].Mean >= (condition.NoAir == 0 ? NoAirBelow : AirAgainFrom);
        }

        condition.NoAir = (byte)(any && !air ? 1 : 0);
        var off = condition.NoAir != 0 || condition.RideOff != 0;
        var rolls = MotionTracker.Now(state.Motion, at) == Movement.Rolling && SettledGate.SpeedOf(state.Motion) > 2;
        var slot = setup.Catalog.OfBody(FindingKind.SuspensionOff, body);
        if (!off || rolls) teller.Tell(slot, off, 3, at, outputs);
    }

    private bool Loaded(int sensor)
    {
        var configuration = ConfigurationRule.Now(setup, state);
        foreach (var axle in setup.Combination.Sensors[sensor].Axles)
            if (configuration[axle] == AxleState.Loaded)
                return true;
        return false;
    }
}
