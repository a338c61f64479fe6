namespace AxleTelemetry.Domain.Places;

/// <summary>A point on the plane that touches the earth somewhere near, m from there.</summary>
/// <param name="East">Metres east.</param>
/// <param name="North">Metres north.</param>
public readonly record struct PlanePoint(double East, double North);

/// <summary>A position on the ellipsoid of WGS 84, degrees.</summary>
/// <param name="Latitude">Degrees north.</param>
/// <param name="Longitude">Degrees east.</param>
public readonly record struct GeoPoint(double Latitude, double Longitude);
