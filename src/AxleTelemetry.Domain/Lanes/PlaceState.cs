using AxleTelemetry.Domain.Places;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>Which country's limits hold. Plain numbers; <c>default</c>: no country known.</summary>
public struct PlaceState
{
    /// <summary>When a country was last looked up, Unix milliseconds; 0 = never.</summary>
    public long At;

    /// <summary>Position then, degrees north.</summary>
    public double Latitude;

    /// <summary>Position then, degrees east.</summary>
    public double Longitude;

    /// <summary>Distance to the border then, m; not a number where none was near.</summary>
    public double BorderMetres;

    /// <summary>Where it lay, degrees; not a number where none was near.</summary>
    public double BorderBearing;

    /// <summary>A <see cref="PlaceKind"/> as a number.</summary>
    public int Kind;

    /// <summary>Number of the country; 0 for none.</summary>
    public ushort Here;

    /// <summary>Number of the country across the border; 0 for none.</summary>
    public ushort Across;

    /// <summary>Number of the tables, with their permits, that hold.</summary>
    public int Stack;

    /// <summary>Number of those across the border.</summary>
    public int StackAcross;

    /// <summary>A bit for each permit of the combination whose speed was passed with the load in hand.</summary>
    public ulong Broken;

    /// <summary>When the load began with which they were broken, Unix milliseconds.</summary>
    public long BrokenSince;

    /// <summary>Since when it is faster than a permit allows that holds; 0 when it is not.</summary>
    public long TooFastSince;

    /// <summary>What was found.</summary>
    public readonly Whereabouts Whereabouts =>
        new((PlaceKind)Kind, Country.FromNumber(Here), Country.FromNumber(Across), BorderMetres, BorderBearing);
}
