namespace AxleTelemetry.Domain.Places;

/// <summary>Distances on the ellipsoid between points that are not far apart: within 0.01 % up to 60 km, away from the poles.</summary>
public static class Earth
{
    private const double Equator = 6_378_137;
    private const double Eccentricity = 0.00669437999014;

    /// <summary>Distance, m.</summary>
    public static double Metres(GeoPoint a, GeoPoint b)
    {
        var (east, north) = Plane(a, b);
        return Math.Sqrt(east * east + north * north);
    }

    /// <summary>Where a point lies as seen from another.</summary>
    public static PlanePoint Plane(GeoPoint from, GeoPoint to)
    {
        var latitude = Radians((from.Latitude + to.Latitude) / 2);
        var flat = 1 - Eccentricity * Math.Sin(latitude) * Math.Sin(latitude);
        var across = Equator / Math.Sqrt(flat);
        var along = across * (1 - Eccentricity) / flat;
        // The shorter way round, also over the date line.
        var east = Math.IEEERemainder(to.Longitude - from.Longitude, 360);
        return new PlanePoint(across * Math.Cos(latitude) * Radians(east), along * Radians(to.Latitude - from.Latitude));
    }

    private static double Radians(double degrees) => degrees * Math.PI / 180;
}
