using AxleTelemetry.Domain.Findings;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>
/// Tells a sensor that says nothing any more, or never did, while its vehicle is heard and rolls. Only time on the road
/// counts: a parked vehicle may sleep, and one that is not heard at all has another trouble.
/// </summary>
internal sealed class SilenceWatch(LaneSetup setup, LaneState state, EpisodeTeller teller)
{
    // A sensor that never spoke may not be wired up yet: no hurry.
    private const double Told = 120, NeverHeardTold = 600;

    /// <summary>The sensor said something.</summary>
    public void Heard(int index, long at, List<LaneOutput> outputs)
    {
        ref var sensor = ref state.Sensors[index];
        var silent = sensor.SilentSeconds;
        sensor.SilentSeconds = 0;
        if (silent >= Told) teller.Tell(setup.Catalog.OfSensor(FindingKind.SensorSilent, index), false, 1, at, outputs);
    }

    /// <summary>True for a trailer whose own unit has gone silent altogether: that is no sensor's trouble. One that never spoke may have none.</summary>
    private bool HasNoVoice(int body, long at) =>
        body != 0 && state.Conditions[body].HeardAt is not 0 and var heard && MotionTracker.Seconds(heard, at) > MotionTracker.LongestGap;

    /// <summary>A speed came in: the vehicle is heard.</summary>
    public void TakeSpeed(long at, List<LaneOutput> outputs)
    {
        ref var motion = ref state.Motion;
        var gap = motion.HeardAt == 0 ? 0 : MotionTracker.Seconds(motion.HeardAt, at);
        motion.HeardAt = at;
        if (gap is <= 0 or > MotionTracker.LongestGap || MotionTracker.Now(motion, at) != Movement.Rolling) return;
        for (var s = 0; s < state.Sensors.Length; s++)
        {
            if (HasNoVoice(setup.Combination.Sensors[s].Body, at)) continue;
            ref var sensor = ref state.Sensors[s];
            sensor.SilentSeconds += gap;
            if (sensor.SilentSeconds < (sensor.PressureAt == 0 ? NeverHeardTold : Told)) continue;
            teller.Tell(setup.Catalog.OfSensor(FindingKind.SensorSilent, s), true, 1, at, outputs);
        }
    }
}
