namespace AxleTelemetry.Domain.Places;

/// <summary>Tells countries by position. Says the same of the same position for ever: another map is another version of the configuration.</summary>
public interface ICountryMap
{
    /// <summary>What is known of a position.</summary>
    /// <param name="latitude">Degrees north, WGS 84.</param>
    /// <param name="longitude">Degrees east, WGS 84.</param>
    /// <param name="accuracyMetres">Radius of 95 %, m.</param>
    Whereabouts At(double latitude, double longitude, double accuracyMetres);
}

/// <summary>The map that knows no country: limits hold as if none were known.</summary>
public sealed class NoCountries : ICountryMap
{
    private NoCountries() { }

    /// <summary>The one there is.</summary>
    public static NoCountries Known { get; } = new();

    /// <inheritdoc/>
    public Whereabouts At(double latitude, double longitude, double accuracyMetres) => Whereabouts.Nowhere;
}
