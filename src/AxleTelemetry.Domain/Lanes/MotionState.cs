namespace AxleTelemetry.Domain.Lanes;

/// <summary>How the vehicle moves, from positions and wheel speed. Times are Unix milliseconds; 0 = never.</summary>
public struct MotionState
{
    /// <summary>Latest speed over ground, m/s, and when.</summary>
    public double Speed;

    /// <summary>When <see cref="Speed"/> was reported.</summary>
    public long SpeedAt;

    /// <summary>Latest speed of the wheels, m/s.</summary>
    public double WheelSpeed;

    /// <summary>When <see cref="WheelSpeed"/> was reported.</summary>
    public long WheelSpeedAt;

    /// <summary>Since when the wheels stand while the ground passes, Unix milliseconds; 0 where they do not.</summary>
    public long CarriedSince;

    /// <summary>Acceleration between the latest two speeds, m/s2; not a number when it cannot be told.</summary>
    public double Acceleration;

    /// <summary>Latest heading, degrees.</summary>
    public double Heading;

    /// <summary>When <see cref="Heading"/> was reported.</summary>
    public long HeadingAt;

    /// <summary>Rate of turn, rad/s.</summary>
    public double TurnRate;

    /// <summary>Latest altitude, m.</summary>
    public double Altitude;

    /// <summary>When <see cref="Altitude"/> was reported.</summary>
    public long AltitudeAt;

    /// <summary>Altitude at the start of the stretch over which the grade is taken, m.</summary>
    public double GradeFromAltitude;

    /// <summary>Odometer at the start of that stretch, m.</summary>
    public double GradeFromMetres;

    /// <summary>Grade of the last whole stretch, as a fraction; only when <see cref="GradeKnown"/>.</summary>
    public double Grade;

    /// <summary>1 once a grade is known.</summary>
    public byte GradeKnown;

    /// <summary>1 once a stretch has begun.</summary>
    public byte GradeBegun;

    /// <summary>Latest position, degrees.</summary>
    public double Latitude;

    /// <summary>Latest position, degrees.</summary>
    public double Longitude;

    /// <summary>Radius of 95 % of the latest position, m; 0 where it was never reported.</summary>
    public double Accuracy;

    /// <summary>When latitude was reported; 0 = no position yet.</summary>
    public long PositionAt;

    /// <summary>Metres rolled since the lane began.</summary>
    public double Metres;

    /// <summary>Since when it stands; 0 while it moves.</summary>
    public long StandsSince;

    /// <summary>Metres rolled since the last stop that may have changed the load.</summary>
    public double MetresSinceStop;

    /// <summary>Since when the vehicle moves over ground without road noise; 0 when not.</summary>
    public long SilentSince;

    /// <summary>Metres made since then, not counted yet.</summary>
    public double SilentMetres;

    /// <summary>Moment of the latest reading of any kind.</summary>
    public long LastReadingAt;

    /// <summary>When a speed was last heard, of the wheels or over ground.</summary>
    public long HeardAt;

    /// <summary>When the service brake was last seen applied.</summary>
    public long BrakedAt;

    /// <summary>1 once it has gone too fast since it last stood to be moving off still.</summary>
    public byte HasBeenFast;

    /// <summary>Speed below which a vehicle may still be moving off, m/s: 30 km/h, (EU) 2021/535 Annex XIII.</summary>
    public const double MovingOffBelow = 30 / 3.6;

    /// <summary>Speed at or below which a vehicle counts as standing, m/s.</summary>
    public const double StandingSpeed = 0.5;
}
