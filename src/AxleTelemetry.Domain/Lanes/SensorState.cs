namespace AxleTelemetry.Domain.Lanes;

/// <summary>What is remembered of one pressure sensor. Times are Unix milliseconds; 0 = never.</summary>
public struct SensorState
{
    /// <summary>Latest pressure, kPa, and when.</summary>
    public double Pressure;

    /// <summary>When <see cref="Pressure"/> was reported.</summary>
    public long PressureAt;

    /// <summary>Start of the running block of ten seconds.</summary>
    public long BlockStart;

    /// <summary>Sum of pressures in the block, kPa.</summary>
    public double BlockSum;

    /// <summary>Sum of squared differences of successive pressures in the block, kPa2.</summary>
    public double BlockRoughness;

    /// <summary>Pressures in the block.</summary>
    public int BlockCount;

    /// <summary>Mean of the last whole block, kPa.</summary>
    public double Mean;

    /// <summary>When that block ended; 0 before the first.</summary>
    public long MeanAt;

    /// <summary>Change of mean between the last two blocks, kPa/s.</summary>
    public double Rate;

    /// <summary>Road noise in the last whole block, kPa; negative when it held too few pressures to tell.</summary>
    public double RoadNoise;

    /// <summary>Since when a loaded circuit shows no noise at all while others feel the road; 0 when not.</summary>
    public long StillSince;

    /// <summary>Sum of settled pressures in the running window, kPa.</summary>
    public double WindowSum;

    /// <summary>Settled pressures in the running window.</summary>
    public int WindowCount;

    /// <summary>Learned noise of a settled reading: weight of what has been seen.</summary>
    public double NoiseWeight;

    /// <summary>Learned noise: weighted sum of squares, kg2.</summary>
    public double NoiseSum;

    /// <summary>Previous settled reading of the same load in the same configuration, kg.</summary>
    public double LastLoad;

    /// <summary>1 while <see cref="LastLoad"/> holds.</summary>
    public byte HasLastLoad;

    /// <summary>Settled readings refused in a row because they cannot be load.</summary>
    public int Refused;

    /// <summary>By how much the latest settled reading departed from the load in hand, kg.</summary>
    public double Departure;

    /// <summary>Latest settled reading, taken or refused, kg.</summary>
    public double Settled;

    /// <summary>1 while <see cref="Settled"/> can be compared with the next.</summary>
    public byte HasSettled;

    /// <summary>Settled readings since one last jumped from the one before it; a reading with none before it counts as a jump.</summary>
    public int SinceJump;

    /// <summary>Seconds that the vehicle has rolled and been heard since this sensor last said anything.</summary>
    public double SilentSeconds;

    /// <summary>Length of a block, s.</summary>
    public const double BlockSeconds = 10;
}
