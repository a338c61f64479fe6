namespace AxleTelemetry.Simulator.Routes;

/// <summary>A place on a road, as one meets it driving towards its end.</summary>
/// <param name="Latitude">Degrees north.</param>
/// <param name="Longitude">Degrees east.</param>
/// <param name="Altitude">m above sea level.</param>
/// <param name="Heading">Degrees clockwise from north.</param>
/// <param name="Grade">Rise per metre.</param>
/// <param name="Curvature">1/m, to the right positive.</param>
/// <param name="Road">Class of the road.</param>
internal readonly record struct RoadPlace(
    double Latitude, double Longitude, double Altitude, double Heading, double Grade, double Curvature, RoadClass Road)
{
    private const double MetresPerDegree = 111_320;

    /// <summary>Metres to a place not far away, level.</summary>
    public double MetresTo(RoadPlace other)
    {
        var (north, east) = Apart(other);
        return Math.Sqrt(north * north + east * east);
    }

    /// <summary>Degrees clockwise from north to a place not far away.</summary>
    public double HeadingTo(RoadPlace other)
    {
        var (north, east) = Apart(other);
        return Wrap(Math.Atan2(east, north) * 180 / Math.PI);
    }

    /// <summary>Unit vector to a place not far away.</summary>
    public (double North, double East) Direction(RoadPlace other)
    {
        var (north, east) = Apart(other);
        var length = Math.Max(1e-9, Math.Sqrt(north * north + east * east));
        return (north / length, east / length);
    }

    /// <summary>So many metres to the north, to the east, and up.</summary>
    public RoadPlace Moved(double north, double east, double up) => this with
    {
        Latitude = Latitude + north / MetresPerDegree,
        Longitude = Longitude + east / (MetresPerDegree * Math.Cos(Latitude * Math.PI / 180)),
        Altitude = Altitude + up,
    };

    /// <summary>A part of the way to the next place.</summary>
    public RoadPlace Towards(RoadPlace next, double part) => this with
    {
        Latitude = Latitude + part * (next.Latitude - Latitude),
        Longitude = Longitude + part * (next.Longitude - Longitude),
        Altitude = Altitude + part * (next.Altitude - Altitude),
        Heading = Wrap(Heading + part * Turn(Heading, next.Heading)),
        Grade = Grade + part * (next.Grade - Grade),
        Curvature = Curvature + part * (next.Curvature - Curvature),
    };

    /// <summary>The same place met the other way.</summary>
    public RoadPlace Reversed() => this with { Heading = Wrap(Heading + 180), Grade = -Grade, Curvature = -Curvature };

    /// <summary>Degrees from one heading to another, -180 to 180.</summary>
    public static double Turn(double from, double to) => Wrap(to - from + 180) - 180;

    /// <summary>Degrees, 0 to 360.</summary>
    public static double Wrap(double degrees) => (degrees % 360 + 360) % 360;

    private (double North, double East) Apart(RoadPlace other) => (
        (other.Latitude - Latitude) * MetresPerDegree,
        (other.Longitude - Longitude) * MetresPerDegree * Math.Cos(Latitude * Math.PI / 180));
}
