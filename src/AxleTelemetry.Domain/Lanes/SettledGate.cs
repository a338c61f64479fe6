using AxleTelemetry.Domain.Loads;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>Says when a pressure gives the axle load: rolling steadily, straight, nearly level, nothing moving in the suspension.</summary>
internal static class SettledGate
{
    private const double SlowestSpeed = 5, FastestSpeed = 25;
    private const double MostAcceleration = 0.3, MostGrade = 0.03, MostLateral = 0.5;
    private const double QuietSeconds = 30;
    private const double MostRate = 0.5;

    /// <summary>True while the whole combination is settled.</summary>
    public static bool IsOpen(LaneSetup setup, LaneState state, long now)
    {
        ref var motion = ref state.Motion;
        if (MotionTracker.Now(motion, now) != Movement.Rolling || motion.SilentSince != 0) return false;
        var speed = SpeedOf(motion);
        if (speed is < SlowestSpeed or > FastestSpeed) return false;
        if (Math.Abs(motion.Acceleration) > MostAcceleration) return false;
        if (MotionTracker.GradeHolds(motion) && Math.Abs(motion.Grade) > MostGrade) return false;
        if (MotionTracker.TurnHolds(motion, now) && Math.Abs(speed * motion.TurnRate) > MostLateral) return false;
        return LiftsAreQuiet(state, now) && BodiesAreQuiet(setup, state, now);
    }

    /// <summary>True where the circuit's own pressure is steady enough.</summary>
    public static bool IsSteady(in SensorState sensor) => Math.Abs(sensor.Rate) <= MostRate;

    /// <summary>Speed over ground where known, else of the wheels, m/s.</summary>
    public static double SpeedOf(in MotionState motion) => motion.SpeedAt >= motion.WheelSpeedAt || motion.SpeedAt != 0 && motion.WheelSpeedAt - motion.SpeedAt < 10_000
        ? motion.Speed : motion.WheelSpeed;

    private static bool LiftsAreQuiet(LaneState state, long now)
    {
        foreach (ref var axle in state.Axles.AsSpan())
        {
            if (axle.Known == 0) continue;
            if (axle.Report == Readings.LiftReport.Moving) return false;
            if (axle.ChangedAt != 0 && MotionTracker.Seconds(axle.ChangedAt, now) < QuietSeconds) return false;
        }

        return true;
    }

    private static bool BodiesAreQuiet(LaneSetup setup, LaneState state, long now)
    {
        for (var b = 0; b < state.Conditions.Length; b++)
        {
            ref var condition = ref state.Conditions[b];
            if (condition.RideOff != 0 || condition.NoAir != 0 || condition.ServiceBrake != 0) return false;
            if (condition.ChangedAt != 0 && MotionTracker.Seconds(condition.ChangedAt, now) < QuietSeconds) return false;
            // What moves inside a tank needs as long to come to rest after braking.
            var discharges = setup.Combination.Vehicles[b].LoadSpace?.Discharges == true;
            if (discharges && state.Motion.BrakedAt != 0 && MotionTracker.Seconds(state.Motion.BrakedAt, now) < QuietSeconds) return false;
            if (!discharges && (condition.BodyInUse != 0)) return false;
        }

        return true;
    }
}
