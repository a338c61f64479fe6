namespace AxleTelemetry.Domain.Places;

/// <summary>What a position says of countries.</summary>
/// <param name="Kind">How much it says.</param>
/// <param name="Here">The country of the position; none where <see cref="PlaceKind.Nowhere"/>.</param>
/// <param name="Across">The country behind the nearest border where that is near or cannot be told from here; otherwise none.</param>
/// <param name="BorderMetres">Distance to that border; not a number where no border is near.</param>
/// <param name="BorderBearing">Where the nearest point of that border lies, degrees clockwise from north; not a number where no border is near.</param>
public readonly record struct Whereabouts(PlaceKind Kind, Country Here, Country Across, double BorderMetres, double BorderBearing)
{
    /// <summary>In no country, or nothing known.</summary>
    public static Whereabouts Nowhere => new(PlaceKind.Nowhere, default, default, double.NaN, double.NaN);

    /// <summary>Well within one country.</summary>
    public static Whereabouts Within(Country here) => new(PlaceKind.Within, here, default, double.NaN, double.NaN);
}

/// <summary>How much a position says of countries.</summary>
public enum PlaceKind : byte
{
    /// <summary>In no country's outline, with none so near that it may be meant; or no position.</summary>
    Nowhere,

    /// <summary>Surely in one country, no border near.</summary>
    Within,

    /// <summary>Surely in one country, a border within the band: 2 km, or three times the position's accuracy where that is more.</summary>
    NearBorder,

    /// <summary>So near to a border that accuracy of position and outline do not tell the side.</summary>
    Undecided,
}
