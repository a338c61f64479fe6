using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>Watches the sensors and what the vehicle says of itself: what they say is tested before it is believed.</summary>
internal sealed class InstrumentWatch(LaneSetup setup, LaneState state)
{
    private const double RoadNoiseFrom = 0.3, StillBelow = 0.02;
    private const double StillSeconds = 30, StillTold = 120;
    private const double NoAirBelow = 30, RelievedWithin = 50, NeighbourCarries = 4000;
    private const double StepBeyond = 4;
    private const int StepsTold = 3, LegsTold = 3;
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
        FeelRoad(at);
        LookForStill(sensor, at, outputs);
        LookForAir(setup.Combination.Sensors[sensor].Body, at, outputs);
        LookForRelief(sensor, at, outputs);
    }

    /// <summary>A speed came in.</summary>
    public void TakeMovement(long at, List<LaneOutput> outputs) =>
        Tell(setup.Catalog.Carried, MotionTracker.Now(state.Motion, at) == Movement.Carried, 1, at, outputs);

    /// <summary>Says whether the reported lift states and the estimate go together.</summary>
    public void TellPossible(bool possible, long at, List<LaneOutput> outputs) =>
        Tell(setup.Catalog.NotPossible, !possible, StepsTold, at, outputs);

    /// <summary>Refuses readings that cannot be load: a step while rolling is an instrument, or a lift nobody reported.</summary>
    public Span<CircuitReading> Screen(LoadMap map, in Motion motion, Span<CircuitReading> readings, long at, List<LaneOutput> outputs)
    {
        if (state.Payload.Readings == 0) return readings;
        var kept = 0;
        foreach (var reading in readings)
        {
            ref var sensor = ref state.Sensors[reading.Sensor];
            var innovation = setup.Estimator.Innovation(state.Payload, state.Known, map, motion, reading);
            var refused = Math.Abs(innovation.Mean) > StepBeyond * innovation.Sd && !MayDischarge(reading.Sensor);
            sensor.Refused = refused ? sensor.Refused + 1 : 0;
            Tell(setup.Catalog.OfSensor(FindingKind.PressureStep, reading.Sensor), refused, StepsTold, at, outputs, innovation.Mean, "kg");
            if (!refused) readings[kept++] = reading;
        }

        return readings[..kept];
    }

    /// <summary>A settled reading was taken.</summary>
    public void AfterSettled(double departure, long at, List<LaneOutput> outputs)
    {
        foreach (var body in setup.Combination.Bodies)
        {
            Tell(setup.Catalog.OfBody(FindingKind.SplitDeparts, body.Index), departure > SplitTold && HasSplit(body), LegsTold, at, outputs, 100 * departure, "%");
            if (body.StateIndex >= 0 && state.Payload.Readings == 2) LookAtPayload(body, at, outputs);
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
        Tell(setup.Catalog.OfBody(FindingKind.PayloadImplausible, body.Index), implausible, LegsTold, at, outputs, payload, "kg");
    }

    private bool MayDischarge(int sensor) =>
        setup.Combination.Vehicles[setup.Combination.Sensors[sensor].Body].LoadSpace?.Discharges == true;

    private void FeelRoad(long at)
    {
        bool any = false, told = false;
        for (var s = 0; s < state.Sensors.Length; s++)
        {
            ref var sensor = ref state.Sensors[s];
            if (sensor.MeanAt == 0 || MotionTracker.Seconds(sensor.MeanAt, at) > 2 * SensorState.BlockSeconds || sensor.RoadNoise < 0) continue;
            told = true;
            any |= sensor.RoadNoise >= RoadNoiseFrom;
        }

        if (told) MotionTracker.TakeRoadNoise(ref state.Motion, at, any);
    }

    private void LookForStill(int index, long at, List<LaneOutput> outputs)
    {
        ref var sensor = ref state.Sensors[index];
        // Once found still it stays under suspicion until it moves: at a stop every sensor is nearly still.
        if (sensor.RoadNoise is < 0 or >= StillBelow || !Loaded(index)) sensor.StillSince = 0;
        else if (sensor.StillSince == 0 && RollsByAnother(index, at)) sensor.StillSince = at;
        var still = sensor.StillSince != 0 && MotionTracker.Seconds(sensor.StillSince, at) >= StillTold;
        Tell(setup.Catalog.OfSensor(FindingKind.SensorStill, index), still, 1, at, outputs);
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
            if (!Loaded(s) || state.Sensors[s].MeanAt == 0) continue;
            any = true;
            air |= state.Sensors[s].Mean >= NoAirBelow;
        }

        condition.NoAir = (byte)(any && !air ? 1 : 0);
        var off = condition.NoAir != 0 || condition.RideOff != 0;
        var rolls = MotionTracker.Now(state.Motion, at) == Movement.Rolling && SettledGate.SpeedOf(state.Motion) > 2;
        var slot = setup.Catalog.OfBody(FindingKind.SuspensionOff, body);
        if (!off || rolls) Tell(slot, off, 3, at, outputs);
    }

    private void LookForRelief(int index, long at, List<LaneOutput> outputs)
    {
        var part = setup.Combination.Sensors[index];
        if (part.Axles.Length != 1 || setup.Combination.Axles[part.Axles[0]].Axle.Lift is null) return;
        ref var axle = ref state.Axles[part.Axles[0]];
        if (axle.Known == 0 || axle.Definite is not (LiftReport.Loaded or LiftReport.Lowered)) return;
        var slot = setup.Catalog.OfAxle(FindingKind.AxleRelieved, part.Axles[0]);
        var relieved = state.Sensors[index].Mean < part.Sensor.RaisedResidual.Kilopascals + RelievedWithin && NeighbourIsHeavy(part);
        axle.Relieved = (byte)(relieved ? 1 : 0);
        // 'Lowered' leaves it open whether the axle carries; 'loaded' claims it does, and is contradicted.
        Tell(slot, relieved && axle.Definite == LiftReport.Loaded, 1, at, outputs);
    }

    private bool NeighbourIsHeavy(SensorPart part)
    {
        var body = setup.Combination.Bodies[part.Body];
        var local = part.Axles[0] - body.FirstAxle;
        var group = body.Vehicle.Front?.Axles.Contains(local) == true ? body.Vehicle.Front : body.Vehicle.Rear;
        for (var s = body.FirstSensor; s < body.FirstSensor + body.Vehicle.Sensors.Length; s++)
        {
            var other = setup.Combination.Sensors[s];
            if (s == part.Index || state.Sensors[s].MeanAt == 0 || !group.Axles.Contains(other.Axles[0] - body.FirstAxle)) continue;
            var load = setup.Estimator.Circuits[s].Fit.At(state.Sensors[s].Mean) + setup.Combination.Axles[other.Axles[0]].Axle.Unsprung.Kilograms;
            if (load > NeighbourCarries) return true;
        }

        return false;
    }

    private bool Loaded(int sensor)
    {
        var configuration = ConfigurationRule.Now(setup, state);
        foreach (var axle in setup.Combination.Sensors[sensor].Axles)
            if (configuration[axle] == AxleState.Loaded)
                return true;
        return false;
    }

    private void Tell(int slot, bool holds, int readings, long at, List<LaneOutput> outputs, double value = 0, string unit = "")
    {
        ref var episode = ref state.Episodes[slot];
        var since = episode.OpenSince;
        var change = EpisodeTracker.Take(ref episode, holds, readings, at, state.Motion.Metres);
        if (change == EpisodeChange.None) return;
        if (episode.OpenSince != 0) since = episode.OpenSince;
        FindingDetail detail = unit.Length == 0 ? new FindingDetail.None() : new FindingDetail.Measured(value, unit);
        outputs.Add(new LaneOutput.Episode(new Moment(at), setup.Catalog.Keys[slot], change, episode.Level, new Moment(since), detail));
    }
}
