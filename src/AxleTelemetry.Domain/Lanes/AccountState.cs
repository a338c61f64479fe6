using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>The period of the running account that is open, and the stretch of road not yet added to it. Plain numbers; <c>default</c>: nothing heard.</summary>
public struct AccountState
{
    /// <summary>When the period began, Unix milliseconds; 0 before the first reading.</summary>
    public long Begin;

    /// <summary>Number of the day (UTC, since 1970) it belongs to.</summary>
    public long Day;

    /// <summary>When it was last told; 0 where it was not.</summary>
    public long ToldAt;

    /// <summary>Odometer up to which road was added, m.</summary>
    public double FromMetres;

    /// <summary>Rolling time since then, s.</summary>
    public double Seconds;

    /// <summary>When a speed was last taken.</summary>
    public long SpeedAt;

    /// <summary>Bit per axle: raised since then.</summary>
    public uint Raised;

    /// <summary>Bit per axle: on the road with relieved bellows since then.</summary>
    public uint Unloaded;

    /// <summary>Suspension modes since then.</summary>
    public ulong Modes;

    /// <summary>How the road bent since then.</summary>
    public CurveState Curve;

    /// <summary>What every axle did since then. Not kept as it is: a state is compared bit by bit, and that type has bits that belong to nobody.</summary>
    public Configuration Configuration
    {
        readonly get => new(Raised, Unloaded, 0, Modes);
        set => (Raised, Unloaded, Modes) = (value.Raised, value.Unloaded, value.Modes);
    }
}

/// <summary>Curvature over a stretch, from headings. Sums of squares with the noise still in, and what tells the noise.</summary>
public struct CurveState
{
    /// <summary>Latest heading taken, degrees.</summary>
    public double Heading;

    /// <summary>When; 0 = never.</summary>
    public long At;

    /// <summary>Odometer then, m.</summary>
    public double Metres;

    /// <summary>Turned between the two headings before, rad.</summary>
    public double Turned;

    /// <summary>1 where <see cref="Turned"/> holds.</summary>
    public long HasTurned;

    /// <summary>Distance over which curvature is known, m.</summary>
    public double Known;

    /// <summary>Sum of turn squared over distance, rad2/m: curvature squared times distance, noise included.</summary>
    public double Squared;

    /// <summary>The same times speed squared.</summary>
    public double WithSpeed;

    /// <summary>The same times speed to the fourth.</summary>
    public double Lateral;

    /// <summary>The noise in <see cref="Squared"/>, as one turn and the one before say it, rad2/m.</summary>
    public double Noise;

    /// <summary>The same in <see cref="WithSpeed"/>.</summary>
    public double NoiseWithSpeed;

    /// <summary>The same in <see cref="Lateral"/>.</summary>
    public double NoiseLateral;

    /// <summary>How many turns are in the sums.</summary>
    public double Turns;
}
