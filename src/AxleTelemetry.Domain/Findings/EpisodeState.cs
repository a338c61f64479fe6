namespace AxleTelemetry.Domain.Findings;

/// <summary>Where one finding stands between clear and open. Plain numbers; <c>default</c> is clear.</summary>
public struct EpisodeState
{
    /// <summary>Level reached; <see cref="Findings.Level.Clear"/> when no episode is open.</summary>
    public Level Level;

    /// <summary>Settled readings in a row that support 'likely'.</summary>
    public int LikelyCount;

    /// <summary>Odometer at the first of them, m.</summary>
    public double LikelyFrom;

    /// <summary>When the first of them was, Unix milliseconds.</summary>
    public long LikelySince;

    /// <summary>Settled readings in a row that support 'surely'.</summary>
    public int SurelyCount;

    /// <summary>Odometer at the first of them, m.</summary>
    public double SurelyFrom;

    /// <summary>When the open episode began; 0 when none is open.</summary>
    public long OpenSince;

    /// <summary>Greatest excess in the episode, kg.</summary>
    public double Peak;
}

/// <summary>What happened to an episode.</summary>
public enum EpisodeChange
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>It began.</summary>
    Opened,

    /// <summary>It became sure.</summary>
    Rose,

    /// <summary>It is no longer sure.</summary>
    Fell,

    /// <summary>It ended.</summary>
    Closed,
}
