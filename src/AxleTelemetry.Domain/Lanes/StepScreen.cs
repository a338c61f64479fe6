using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>
/// Tests settled readings against the load in hand. What departs too far cannot be load while rolling: the instrument
/// stepped where one reading jumped from the one before, and drifts where it crept. But if the vehicle stood for a moment
/// before, and since then no circuit fits any more, the load was changed in less time than loading is thought to take.
/// </summary>
internal sealed class StepScreen(LaneSetup setup, LaneState state, EpisodeTeller teller)
{
    private const double RefusedBeyond = 4, JumpBeyond = 3;
    private const int Told = 3;

    /// <summary>True where so many readings in a row were refused that the sensor is not believed of this load any more.</summary>
    public static bool IsToldOff(in SensorState sensor) => sensor.Refused >= Told;

    /// <summary>The vehicle stands or stood too short for loading. It counts where the load fitted until then.</summary>
    public void NoticeShortStop(long since)
    {
        foreach (ref var condition in state.Conditions.AsSpan())
            if (condition.Misfits == 0 && condition.ShortStopAt == 0)
                condition.ShortStopAt = since;
    }

    /// <summary>Says of each reading whether it fits the load in hand.</summary>
    public void Test(LoadMap map, in Motion motion, ReadOnlySpan<CircuitReading> readings)
    {
        foreach (ref readonly var reading in readings)
        {
            ref var sensor = ref state.Sensors[reading.Sensor];
            NoteJump(ref sensor, reading);
            sensor.Refused = state.Payload.Readings > 0 && IsRefused(map, motion, reading, ref sensor) ? sensor.Refused + 1 : 0;
        }

        foreach (var body in setup.Combination.Bodies)
            if (body.StateIndex >= 0)
                CountMisfits(body, readings);
    }

    /// <summary>Since when the load is another than was taken: the short stop at which it was changed, or its own beginning; 0 where nothing says so.</summary>
    public long ChangedAt()
    {
        // One reading was taken, and all that came after agree that it was wrong: it was, not they.
        if (state.Payload.Readings == 1 && state.Load.Since != 0 && AllMisfit()) return state.Load.Since;
        long since = 0;
        foreach (var body in setup.Combination.Bodies)
        {
            ref var condition = ref state.Conditions[body.Index];
            if (condition.ShortStopAt == 0 || condition.Misfits < Told || !Jumped(body)) continue;
            if (since == 0 || condition.ShortStopAt < since) since = condition.ShortStopAt;
        }

        return since;
    }

    private bool AllMisfit()
    {
        var any = false;
        foreach (var body in setup.Combination.Bodies)
        {
            if (body.StateIndex < 0) continue;
            if (state.Conditions[body.Index].Misfits < Told) return false;
            any = true;
        }

        return any;
    }

    /// <summary>Tells what the readings say of their sensors, except where the load may explain them yet.</summary>
    public void Tell(ReadOnlySpan<CircuitReading> readings, long at, List<LaneOutput> outputs)
    {
        if (state.Payload.Readings == 0) return;
        foreach (ref readonly var reading in readings)
        {
            ref var sensor = ref state.Sensors[reading.Sensor];
            int step = Step(reading.Sensor), drift = Drift(reading.Sensor);
            var drifts = teller.IsOpen(drift) || (!teller.IsOpen(step) && sensor.SinceJump > sensor.Refused);
            var told = IsInDoubt(reading.Sensor) ? int.MaxValue : Told;
            teller.Tell(step, sensor.Refused > 0, drifts ? int.MaxValue : told, at, outputs, sensor.Departure, "kg");
            teller.Tell(drift, sensor.Refused > 0, drifts ? told : int.MaxValue, at, outputs, sensor.Departure, "kg");
        }
    }

    /// <summary>Leaves those that fit.</summary>
    public Span<CircuitReading> Keep(Span<CircuitReading> readings)
    {
        var kept = 0;
        foreach (var reading in readings)
            if (state.Sensors[reading.Sensor].Refused == 0)
                readings[kept++] = reading;
        return readings[..kept];
    }

    /// <summary>A new load began: no reading of the one before counts against a sensor.</summary>
    public void NewLoad()
    {
        for (var s = 0; s < state.Sensors.Length; s++)
        {
            state.Sensors[s].Refused = 0;
            EpisodeTracker.Forget(ref state.Episodes[Step(s)]);
            EpisodeTracker.Forget(ref state.Episodes[Drift(s)]);
        }

        ForgetStops();
    }

    /// <summary>The load changed, not the sensors: what was told of them ends.</summary>
    public void Clear(long at, List<LaneOutput> outputs)
    {
        for (var s = 0; s < state.Sensors.Length; s++)
        {
            teller.Tell(Step(s), false, Told, at, outputs);
            teller.Tell(Drift(s), false, Told, at, outputs);
        }
    }

    /// <summary>A stop long enough for loading is decided by itself.</summary>
    public void ForgetStops()
    {
        foreach (ref var condition in state.Conditions.AsSpan())
        {
            condition.Misfits = 0;
            condition.ShortStopAt = 0;
        }
    }

    private void NoteJump(ref SensorState sensor, in CircuitReading reading)
    {
        var load = setup.Estimator.Circuits[reading.Sensor].Fit.At(reading.Pressure);
        // Successive readings of one load differ by twice the variance of each.
        var jumped = sensor.HasSettled == 0 || Math.Abs(load - sensor.Settled) > JumpBeyond * Math.Sqrt(2 * reading.NoiseVariance);
        sensor.SinceJump = jumped ? 0 : sensor.SinceJump + 1;
        sensor.Settled = load;
        sensor.HasSettled = 1;
    }

    private bool IsRefused(LoadMap map, in Motion motion, in CircuitReading reading, ref SensorState sensor)
    {
        var innovation = setup.Estimator.Innovation(state.Payload, state.Known, map, motion, reading);
        sensor.Departure = innovation.Mean;
        return Math.Abs(innovation.Mean) > RefusedBeyond * innovation.Sd && !MayDischarge(reading.Sensor);
    }

    private bool MayDischarge(int sensor)
    {
        foreach (var body in setup.Combination.Bodies)
            if (body.Vehicle.LoadSpace is { Discharges: true } && setup.Combination.Carries(setup.Combination.Sensors[sensor].Body, body))
                return true;
        return false;
    }

    private void CountMisfits(BodyPart body, ReadOnlySpan<CircuitReading> readings)
    {
        bool any = false, fits = false;
        foreach (ref readonly var reading in readings)
        {
            if (!Feels(reading.Sensor, body)) continue;
            any = true;
            fits |= state.Sensors[reading.Sensor].Refused == 0;
        }

        if (!any) return;
        ref var condition = ref state.Conditions[body.Index];
        condition.Misfits = fits ? 0 : condition.Misfits + 1;
        if (fits) condition.ShortStopAt = 0;
    }

    /// <summary>True where the circuit is to be asked about the load of a body: its own, or where it has none those of the body it rests on.</summary>
    private bool Feels(int sensor, BodyPart body) =>
        setup.Combination.Sensors[sensor].Body == (body.Vehicle.Sensors.IsEmpty ? body.Index - 1 : body.Index);

    private bool Jumped(BodyPart body)
    {
        for (var s = 0; s < state.Sensors.Length; s++)
            if (Feels(s, body) && state.Sensors[s].SinceJump < state.Conditions[body.Index].Misfits)
                return true;
        return false;
    }

    /// <summary>True while a load that may have been changed at a short stop could explain it: on the body itself or on one that rests on it.</summary>
    private bool IsInDoubt(int sensor)
    {
        var own = setup.Combination.Sensors[sensor].Body;
        for (var b = own; b < state.Conditions.Length && b <= own + 1; b++)
        {
            ref var condition = ref state.Conditions[b];
            if ((condition.ShortStopAt != 0 || state.Payload.Readings == 1) && condition.Misfits is > 0 and < Told) return true;
        }

        return false;
    }

    private int Step(int sensor) => setup.Catalog.OfSensor(FindingKind.PressureStep, sensor);

    private int Drift(int sensor) => setup.Catalog.OfSensor(FindingKind.SensorDrifts, sensor);
}
