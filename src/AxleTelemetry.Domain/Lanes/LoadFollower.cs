using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>
/// Follows the load: gathers settled readings, decides after a stop whether the load is the one from before, and gives
/// the estimator what it may have.
/// </summary>
internal sealed class LoadFollower(LaneSetup setup, LaneState state, Judgement judgement, InstrumentWatch instruments, StepScreen screen, RunningAccount account)
{
    private const double LongStop = 120, ShortStop = 20;
    private const double RollFirst = 300;
    private const double WindowSeconds = 60, WindowMetres = 1000, LeastSettled = 20, LongestWindow = 180;
    private const double SameLoadWithin = 3;

    // Lower than for another load: taken for given off by mistake, a reading only widens the interval for a while.
    private const double GivenOffBeyond = 2;

    private const double StandingEvery = 60, StandingAfter = 20, StandingRelativeSd = 0.04;
    private const double GradeTrust = 0.8;
    private const int MostLooks = 4;

    /// <summary>Nothing heard for long: the vehicle may have stood and been loaded meanwhile.</summary>
    public void NoticeGap(long at, List<LaneOutput> outputs)
    {
        var last = state.Motion.LastReadingAt;
        if (last != 0 && MotionTracker.Seconds(last, at) >= LongStop) MayHaveChanged(last, at, outputs);
    }

    /// <summary>Something that loads or unloads is at work while standing.</summary>
    public void NoticeWork(long at, List<LaneOutput> outputs)
    {
        if (MotionTracker.Now(state.Motion, at) != Movement.Rolling) MayHaveChanged(at, at, outputs);
    }

    /// <summary>A lift switch was found to lie: what settled since it last changed was taken for the wrong configuration.</summary>
    public void NoticeLie(long changed, long at, List<LaneOutput> outputs)
    {
        if (state.Load.SettledAt > changed) MayHaveChanged(changed, at, outputs);
    }

    /// <summary>Suspension or lift moved: the running window is worth nothing.</summary>
    public void Disturb()
    {
        ClearWindow();
        ForgetSettled();
    }

    /// <summary>Takes a pressure into the window where it is settled.</summary>
    public void TakePressure(int sensor, long at, double pressure)
    {
        ref var circuit = ref state.Sensors[sensor];
        if (state.Motion.MetresSinceStop < RollFirst || !SettledGate.IsOpen(setup, state, at)) return;
        if (!SettledGate.IsSteady(circuit) || instruments.IsStill(sensor, at) || !Carries(sensor)) return;
        ref var window = ref state.Window;
        if (window.Start == 0)
        {
            window.Start = at;
            window.StartMetres = state.Motion.Metres;
        }
        else if (at > window.LastAt)
        {
            window.SettledSeconds += Math.Min(MotionTracker.Seconds(window.LastAt, at), 30);
        }

        window.LastAt = at;
        circuit.WindowSum += pressure;
        circuit.WindowCount++;
    }

    /// <summary>A speed came in: stops, windows and standing readings are looked at.</summary>
    /// <param name="stood">Since when it stood before this speed; 0 where it moved.</param>
    /// <param name="at">When.</param>
    /// <param name="outputs">Receives what follows.</param>
    public void TakeSpeed(long stood, long at, List<LaneOutput> outputs)
    {
        ref var motion = ref state.Motion;
        if (motion.StandsSince != 0 && MotionTracker.Seconds(motion.StandsSince, at) >= LongStop)
        {
            MayHaveChanged(motion.StandsSince, at, outputs);
            motion.MetresSinceStop = 0;
        }

        NoticeShortStop(motion.StandsSince != 0 ? motion.StandsSince : stood, at);
        if (motion.StandsSince != 0)
        {
            TakeStanding(at, outputs);
            return;
        }

        if (state.Window.Start == 0) return;
        if (SettledGate.IsOpen(setup, state, at))
        {
            state.Window.SlopeSum += motion.Acceleration / Motion.Gravity;
            var speed = SettledGate.SpeedOf(motion);
            state.Window.SpeedSquaredSum += speed * speed;
            state.Window.Speeds++;
        }

        CloseWindow(at, outputs);
    }

    private bool Carries(int sensor)
    {
        var configuration = ConfigurationRule.Now(setup, state);
        foreach (var axle in setup.Combination.Sensors[sensor].Axles)
            if (configuration[axle] == AxleState.Loaded)
                return true;
        return false;
    }

    /// <summary>Too short for loading as it is known, but no reading may span it, and friction holds what the brakes held.</summary>
    private void NoticeShortStop(long since, long at)
    {
        if (since == 0 || state.Load.MayHaveChanged != 0 || MotionTracker.Seconds(since, at) < ShortStop) return;
        screen.NoticeShortStop(since);
        ClearWindow();
        state.Motion.MetresSinceStop = 0;
    }

    private void MayHaveChanged(long since, long at, List<LaneOutput> outputs)
    {
        if (state.Load.MayHaveChanged != 0) return;
        account.LoadEnds(at, outputs);
        state.Load.MayHaveChanged = 1;
        state.Load.HasProvisional = 0;
        state.Load.StopBegan = since;
        state.Load.ProvisionalAt = 0;
        state.Motion.MetresSinceStop = 0;
        state.Told.AsSpan().Clear();
        screen.ForgetStops();
        judgement.LoadInDoubt(at, outputs);
        Disturb();
    }

    /// <summary>What settles next cannot be compared with what settled before.</summary>
    private void ForgetSettled()
    {
        foreach (ref var sensor in state.Sensors.AsSpan())
        {
            sensor.HasLastLoad = 0;
            sensor.HasSettled = 0;
        }
    }

    private void ClearWindow()
    {
        state.Window = default;
        foreach (ref var sensor in state.Sensors.AsSpan())
        {
            sensor.WindowSum = 0;
            sensor.WindowCount = 0;
        }
    }

    private void CloseWindow(long at, List<LaneOutput> outputs)
    {
        ref var window = ref state.Window;
        var elapsed = MotionTracker.Seconds(window.Start, at);
        if (elapsed < WindowSeconds && state.Motion.Metres - window.StartMetres < WindowMetres) return;
        if (window.SettledSeconds < LeastSettled || window.Speeds == 0)
        {
            if (elapsed > LongestWindow) ClearWindow();
            return;
        }

        var motion = MotionOf(window);
        Span<CircuitReading> readings = stackalloc CircuitReading[state.Sensors.Length];
        var count = 0;
        for (var s = 0; s < state.Sensors.Length; s++)
        {
            if (state.Sensors[s].WindowCount == 0) continue;
            readings[count++] = Read(s, state.Sensors[s].WindowSum / state.Sensors[s].WindowCount, NoiseVariance(s));
        }

        ClearWindow();
        if (count > 0) Settle(at, motion, readings[..count], outputs);
    }

    private Motion MotionOf(in WindowState window)
    {
        // The grade of a stretch is measured about as finely as roads vary: part of it is taken.
        var grade = MotionTracker.GradeHolds(state.Motion) ? GradeTrust * state.Motion.Grade : 0;
        return new Motion(window.SlopeSum / window.Speeds + grade, window.SpeedSquaredSum / window.Speeds, true);
    }

    private CircuitReading Read(int sensor, double pressure, double noiseVariance)
    {
        var part = setup.Combination.Sensors[sensor];
        var (referred, sd) = Atmosphere.Refer(part.Sensor, pressure, state.Motion, state.Conditions[part.Body]);
        return new CircuitReading(sensor, referred, noiseVariance, sd);
    }

    private double NoiseVariance(int sensor)
    {
        ref var learned = ref state.Sensors[sensor];
        var rating = setup.Combination.Axles[setup.Combination.Sensors[sensor].Axles[0]].Axle.Rating.Kilograms;
        return NoiseRule.Variance(learned, rating);
    }

    private void Settle(long at, in Motion motion, Span<CircuitReading> readings, List<LaneOutput> outputs)
    {
        FuelCount.Burn(setup, state);
        var configuration = ConfigurationRule.Now(setup, state);
        var stands = setup.Model.MapAt(configuration, state.Payload.State);
        instruments.TellPossible(stands is not null, at, outputs);
        // A wrong estimate may make a suspension pull; readings must still be able to mend it.
        if ((stands ?? setup.Model.Map(configuration)) is not { } map) return;
        var before = outputs.Count;
        if (state.Load.MayHaveChanged != 0) map = Decide(at, map, motion, readings, outputs);
        screen.Test(map, motion, readings);
        if (screen.ChangedAt() is var changed and not 0) map = ChangedQuickly(changed, at, map, outputs);
        screen.Tell(readings, at, outputs);
        var accepted = screen.Keep(readings);
        if (accepted.IsEmpty) return;
        foreach (ref readonly var reading in accepted) NoiseRule.Learn(ref state.Sensors[reading.Sensor], setup.Estimator.Circuits[reading.Sensor].Fit.At(reading.Pressure));
        LoosenDischarging(map, motion, accepted);
        if (state.Payload.Readings == 0) map = FirstLook(state.Payload, map, motion, accepted);
        Span<double> departures = stackalloc double[setup.Combination.Bodies.Length];
        MeasuredSplit.Learn(setup.Estimator, state.Known, map.Configuration, accepted, state.SplitCounts, departures);
        setup.Estimator.Take(state.Payload, state.Known, map, motion, accepted);
        // How much a new load is, is known only now.
        for (var i = before; i < outputs.Count; i++)
            if (outputs[i] is LaneOutput.LoadBegan began)
                outputs[i] = began with { Payload = setup.Estimator.PayloadOf(state.Payload) };
        state.Load.SettledAt = at;
        state.Load.LegReadings++;
        state.Load.SettledMetres = state.Motion.Metres;
        instruments.AfterSettled(departures, at, outputs);
        judgement.Settled(at, outputs);
        account.Settled();
    }

    /// <summary>
    /// Which axles a valve holds at their ceiling follows from the load, and before the first reading nothing is known of it:
    /// looked at until both agree. The estimate is left as it was begun.
    /// </summary>
    private LoadMap FirstLook(PayloadEstimate estimate, LoadMap map, in Motion motion, ReadOnlySpan<CircuitReading> readings)
    {
        for (var look = 0; setup.HasCeiling && look < MostLooks; look++)
        {
            setup.Estimator.Take(estimate, state.Known, map, motion, readings);
            var then = setup.Model.MapAt(map.Configuration, estimate.State);
            setup.Estimator.BeginLoad(estimate);
            if (then is null || then.Configuration == map.Configuration) break;
            map = then;
        }

        return map;
    }

    /// <summary>First settled reading after a stop: the load before it goes on if the reading fits within three standard deviations, else a new one began at the stop.</summary>
    private LoadMap Decide(long at, LoadMap map, in Motion motion, ReadOnlySpan<CircuitReading> readings, List<LaneOutput> outputs)
    {
        state.Load.MayHaveChanged = 0;
        state.Load.HasProvisional = 0;
        state.Load.Legs++;
        state.Load.LegReadings = 0;
        setup.Estimator.BeginLeg(state.Payload);
        var same = state.Payload.Readings > 0;
        var measuredElsewhere = Array.Exists(state.Aboard, a => a.IsKnown);
        state.Aboard.AsSpan().Clear();
        foreach (ref readonly var reading in readings)
        {
            if (!same) break;
            var innovation = setup.Estimator.Innovation(state.Payload, state.Known, map, motion, reading);
            // A sensor told off is as far off after the stop as before it, or was set right: that is no other load.
            ref var sensor = ref state.Sensors[reading.Sensor];
            var known = StepScreen.IsToldOff(sensor) ? sensor.Departure : 0;
            same = Math.Min(Math.Abs(innovation.Mean), Math.Abs(innovation.Mean - known)) <= SameLoadWithin * innovation.Sd;
        }

        if (same)
        {
            outputs.Add(new LaneOutput.LoadGoesOn(new Moment(at)));
            // What it was off by may be what these readings are off by: taken together they would seem surer than they are.
            return measuredElsewhere ? MeasureAnew(state.Load.StopBegan, map) : map;
        }

        return BeginLoad(state.Load.StopBegan == 0 ? at : state.Load.StopBegan, at, map, outputs);
    }

    /// <summary>A stop too short for loading had one all the same.</summary>
    private LoadMap ChangedQuickly(long since, long at, LoadMap map, List<LaneOutput> outputs)
    {
        account.LoadEnds(at, outputs);
        state.Load.Legs++;
        state.Load.LegReadings = 0;
        ForgetSettled();
        screen.Clear(at, outputs);
        judgement.LoadInDoubt(at, outputs);
        return BeginLoad(since, at, map, outputs);
    }

    private LoadMap BeginLoad(long since, long at, LoadMap map, List<LaneOutput> outputs)
    {
        map = MeasureAnew(since, map);
        judgement.NewLoad();
        screen.NewLoad();
        outputs.Add(new LaneOutput.LoadBegan(new Moment(at), new Moment(since), default));
        return map;
    }

    private LoadMap MeasureAnew(long since, LoadMap map)
    {
        setup.Estimator.BeginLoad(state.Payload);
        state.Load.Since = since;
        state.Load.BeganMetres = state.Motion.Metres;
        // What the load before burnt is not burnt of this one.
        FuelCount.Burn(setup, state);
        return setup.Model.MapAt(map.Configuration with { AtCeiling = 0 }, state.Payload.State) ?? map;
    }

    private void LoosenDischarging(LoadMap map, in Motion motion, ReadOnlySpan<CircuitReading> readings)
    {
        foreach (var body in setup.Combination.Bodies)
        {
            if (body.Vehicle.LoadSpace is not { Discharges: true } space) continue;
            // Not every body says when it is at work: a reading that fits no more says it too.
            if (!IsAtWork(body.Index) && !Departs(body, map, motion, readings)) continue;
            // A spreader or tanker may give off a few per cent of its load between two settled readings.
            setup.Estimator.Loosen(state.Payload, body, 0.05 * space.Permitted.Kilograms);
        }
    }

    private bool Departs(BodyPart body, LoadMap map, in Motion motion, ReadOnlySpan<CircuitReading> readings)
    {
        if (state.Payload.Readings == 0) return false;
        foreach (ref readonly var reading in readings)
        {
            if (!setup.Combination.Carries(setup.Combination.Sensors[reading.Sensor].Body, body)) continue;
            var innovation = setup.Estimator.Innovation(state.Payload, state.Known, map, motion, reading);
            if (Math.Abs(innovation.Mean) > GivenOffBeyond * innovation.Sd) return true;
        }

        return false;
    }

    /// <summary>A trailer's pump or spreader may hang on the power take-off of the unit that pulls it.</summary>
    private bool IsAtWork(int body) =>
        state.Conditions[0].PowerTakeOff != 0 || state.Conditions[body].PowerTakeOff != 0 || state.Conditions[body].BodyInUse != 0;

    /// <summary>Standing after a stop that may have changed the load: what the bellows say now, within 4 %, until the vehicle has rolled.</summary>
    private void TakeStanding(long at, List<LaneOutput> outputs)
    {
        if (state.Load.MayHaveChanged == 0 || MotionTracker.Seconds(state.Motion.StandsSince, at) < StandingAfter) return;
        if (state.Load.ProvisionalAt != 0 && MotionTracker.Seconds(state.Load.ProvisionalAt, at) < StandingEvery) return;
        foreach (ref var condition in state.Conditions.AsSpan())
            if (ConditionRule.MayChangeLoad(condition) || condition.NoAir != 0)
            {
                state.Load.HasProvisional = 0;
                return;
            }

        Span<CircuitReading> readings = stackalloc CircuitReading[state.Sensors.Length];
        var count = 0;
        for (var s = 0; s < state.Sensors.Length; s++)
        {
            ref var sensor = ref state.Sensors[s];
            if (!Carries(s) || StepScreen.IsToldOff(sensor) || sensor.MeanAt < state.Motion.StandsSince || MotionTracker.Seconds(sensor.MeanAt, at) > StandingEvery) continue;
            var load = Math.Max(setup.Estimator.Circuits[s].Fit.At(sensor.Mean), 1000);
            readings[count++] = Read(s, sensor.Mean, StandingRelativeSd * load * StandingRelativeSd * load);
        }

        if (count == 0) return;
        setup.Estimator.BeginLoad(state.Provisional);
        if (setup.Model.MapAt(ConfigurationRule.Now(setup, state), state.Provisional.State) is not { } map) return;
        map = FirstLook(state.Provisional, map, default, readings[..count]);
        setup.Estimator.Take(state.Provisional, state.Known, map, default, readings[..count]);
        state.Load.HasProvisional = 1;
        state.Load.ProvisionalAt = at;
        judgement.Standing(at, outputs);
    }
}
