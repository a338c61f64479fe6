namespace AxleTelemetry.Domain.Lanes;

/// <summary>Keeps <see cref="MotionState"/> from speeds, headings and altitudes.</summary>
internal static class MotionTracker
{
    /// <summary>A gap between speeds longer than this tells nothing of acceleration or distance, s.</summary>
    public const double LongestGap = 70;

    /// <summary>Road noise absent for this long while moving: carried, or the sensors are stuck, s.</summary>
    public const double SilenceMeansCarried = 60;

    /// <summary>Wheels that stand while the ground passes for this long: carried. At a drive-off wheels and position are a moment apart, s.</summary>
    private const double StillWheelsMeanCarried = 15;

    private const double FreshWheelSpeed = 10;
    private const double GradeStretch = 500;

    /// <summary>How it moves now.</summary>
    public static Movement Now(in MotionState motion, long now)
    {
        if (motion.SpeedAt == 0 && motion.WheelSpeedAt == 0) return Movement.Unknown;
        var wheelsKnown = motion.WheelSpeedAt != 0 && Seconds(motion.WheelSpeedAt, now) <= FreshWheelSpeed;
        if (!wheelsKnown && (motion.SpeedAt == 0 || Seconds(motion.SpeedAt, now) > LongestGap)) return Movement.Unknown;
        if (wheelsKnown && motion.WheelSpeed > MotionState.StandingSpeed) return Movement.Rolling;
        if (motion.Speed <= MotionState.StandingSpeed || motion.SpeedAt == 0) return Movement.Standing;
        if (wheelsKnown) return motion.CarriedSince != 0 && Seconds(motion.CarriedSince, now) >= StillWheelsMeanCarried ? Movement.Carried : Movement.Standing;
        return motion.SilentSince != 0 && Seconds(motion.SilentSince, now) >= SilenceMeansCarried ? Movement.Carried : Movement.Rolling;
    }

    /// <summary>Takes a speed over ground.</summary>
    public static void TakeSpeed(ref MotionState motion, long at, double speed)
    {
        var gap = Seconds(motion.SpeedAt, at);
        if (motion.SpeedAt != 0 && gap > 0 && gap <= LongestGap)
        {
            motion.Acceleration = (speed - motion.Speed) / gap;
            Advance(ref motion, at, (speed + motion.Speed) / 2 * gap);
        }
        else
        {
            motion.Acceleration = 0;
        }

        motion.Speed = speed;
        motion.SpeedAt = at;
        CompareWheels(ref motion, at);
        StandOrMove(ref motion, at, speed);
    }

    /// <summary>Takes a wheel speed. Without positions it drives the odometer too.</summary>
    public static void TakeWheelSpeed(ref MotionState motion, long at, double speed)
    {
        var positions = motion.SpeedAt != 0 && Seconds(motion.SpeedAt, at) <= LongestGap;
        if (!positions && motion.WheelSpeedAt != 0 && Seconds(motion.WheelSpeedAt, at) <= LongestGap)
        {
            var gap = Seconds(motion.WheelSpeedAt, at);
            if (gap > 0)
            {
                motion.Acceleration = (speed - motion.WheelSpeed) / gap;
                Advance(ref motion, at, (speed + motion.WheelSpeed) / 2 * gap);
            }
        }

        motion.WheelSpeed = speed;
        motion.WheelSpeedAt = at;
        CompareWheels(ref motion, at);
        if (positions) return;
        StandOrMove(ref motion, at, speed);
    }

    private static void CompareWheels(ref MotionState motion, long at)
    {
        var stand = motion.WheelSpeedAt != 0 && Seconds(motion.WheelSpeedAt, at) <= FreshWheelSpeed && motion.WheelSpeed <= MotionState.StandingSpeed;
        if (!stand || motion.SpeedAt == 0 || motion.Speed <= MotionState.StandingSpeed) motion.CarriedSince = 0;
        else if (motion.CarriedSince == 0) motion.CarriedSince = at;
    }

    private static void StandOrMove(ref MotionState motion, long at, double speed)
    {
        if (speed >= MotionState.MovingOffBelow) motion.HasBeenFast = 1;
        if (speed > MotionState.StandingSpeed)
        {
            motion.StandsSince = 0;
            return;
        }

        motion.HasBeenFast = 0;
        if (motion.StandsSince == 0) motion.StandsSince = at;
    }

    /// <summary>Takes a heading.</summary>
    public static void TakeHeading(ref MotionState motion, long at, double degrees)
    {
        var gap = Seconds(motion.HeadingAt, at);
        var turned = Math.IEEERemainder(degrees - motion.Heading, 360) * Math.PI / 180;
        motion.TurnRate = motion.HeadingAt != 0 && gap > 0 && gap <= LongestGap ? turned / gap : 0;
        motion.Heading = degrees;
        motion.HeadingAt = at;
    }

    /// <summary>Takes an altitude; the grade is that of the last whole stretch of 500 m.</summary>
    public static void TakeAltitude(ref MotionState motion, long at, double metres)
    {
        motion.Altitude = metres;
        motion.AltitudeAt = at;
        var rolled = motion.Metres - motion.GradeFromMetres;
        if (motion.GradeBegun == 0 || rolled > 3 * GradeStretch)
        {
            motion.GradeBegun = 1;
            motion.GradeKnown = 0;
        }
        else if (rolled < GradeStretch)
        {
            return;
        }
        else
        {
            motion.Grade = (metres - motion.GradeFromAltitude) / rolled;
            motion.GradeKnown = 1;
        }

        motion.GradeFromAltitude = metres;
        motion.GradeFromMetres = motion.Metres;
    }

    /// <summary>True where the grade is of road driven lately: without altitude since, a hill left behind says nothing any more.</summary>
    public static bool GradeHolds(in MotionState motion) =>
        motion.GradeKnown != 0 && motion.Metres - motion.GradeFromMetres <= 3 * GradeStretch;

    /// <summary>True where the rate of turn is of now: the bend in which headings ceased to come ends some time.</summary>
    public static bool TurnHolds(in MotionState motion, long now) => motion.HeadingAt != 0 && Seconds(motion.HeadingAt, now) <= LongestGap;

    /// <summary>Says whether the circuits feel the road. Metres made in silence count only if the road comes back.</summary>
    public static void TakeRoadNoise(ref MotionState motion, long at, bool felt)
    {
        if (!felt && motion.Speed > MotionState.StandingSpeed)
        {
            if (motion.SilentSince == 0) motion.SilentSince = at;
            return;
        }

        if (motion.SilentSince != 0 && Seconds(motion.SilentSince, at) < SilenceMeansCarried)
        {
            motion.Metres += motion.SilentMetres;
            motion.MetresSinceStop += motion.SilentMetres;
        }

        motion.SilentMetres = 0;
        motion.SilentSince = 0;
    }

    /// <summary>Seconds from one Unix millisecond to another.</summary>
    public static double Seconds(long from, long to) => (to - from) / 1000.0;

    private static void Advance(ref MotionState motion, long at, double metres)
    {
        if (motion.CarriedSince != 0 || Now(motion, at) is Movement.Carried) return;
        if (motion.SilentSince != 0)
        {
            motion.SilentMetres += metres;
            return;
        }

        motion.Metres += metres;
        motion.MetresSinceStop += metres;
    }
}

/// <summary>How a vehicle moves.</summary>
public enum Movement
{
    /// <summary>No speed known, or none lately.</summary>
    Unknown,

    /// <summary>Standing.</summary>
    Standing,

    /// <summary>On its wheels.</summary>
    Rolling,

    /// <summary>Moving over ground without turning wheels or road noise: a ferry, a train, a recovery truck.</summary>
    Carried,
}
