using AxleTelemetry.Domain.Places;

namespace AxleTelemetry.Places;

/// <summary>The plane that touches the earth at a position: good to 0.1 % over the few kilometres that matter.</summary>
internal readonly struct View
{
    private readonly double _east, _north;

    public View(double latitude, double longitude)
    {
        (Latitude, Longitude) = (latitude, longitude);
        // A thousandth of a degree each way, as the ellipsoid has it here. At a pole there is no east.
        var near = new GeoPoint(latitude, longitude);
        _east = Math.Max(Earth.Plane(near, new GeoPoint(latitude, longitude + 0.001)).East * 1000, 1);
        _north = Earth.Plane(new GeoPoint(latitude - 0.0005, longitude), new GeoPoint(latitude + 0.0005, longitude)).North * 1000;
    }

    public double Latitude { get; }

    public double Longitude { get; }

    /// <summary>Degrees north and east that are so many metres.</summary>
    public (double North, double East) Degrees(double metres) => (metres / _north, Math.Min(metres / _east, 180));

    /// <summary>The nearest point of a line: metres east and north of the position, and the distance squared.</summary>
    public (double Squared, double East, double North) To(in Line line)
    {
        double ax = East(line.FromLongitude), ay = (line.FromLatitude - Latitude) * _north;
        double bx = East(line.ToLongitude), by = (line.ToLatitude - Latitude) * _north;
        double dx = bx - ax, dy = by - ay, along = dx * dx + dy * dy;
        var t = along > 0 ? Math.Clamp(-(ax * dx + ay * dy) / along, 0, 1) : 0;
        double x = ax + t * dx, y = ay + t * dy;
        return (x * x + y * y, x, y);
    }

    /// <summary>Bearing of a point, degrees clockwise from north.</summary>
    public static double Bearing(double east, double north) 
    {
        var bearing = Math.Atan2(east, north) * 180 / Math.PI;
        return bearing < 0 ? bearing + 360 : bearing;
    }

    private double East(double longitude)
    {
        var degrees = longitude - Longitude;
        if (degrees > 180) degrees -= 360;
        else if (degrees < -180) degrees += 360;
        return degrees * _east;
    }
}
