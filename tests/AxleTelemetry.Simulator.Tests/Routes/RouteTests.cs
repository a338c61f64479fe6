using AxleTelemetry.Simulator.Routes;

namespace AxleTelemetry.Simulator.Tests.Routes;

/// <summary>The routes are where they say; boxes of countries are rough (from memory).</summary>
public sealed class RouteTests
{
    private static readonly Dictionary<string, (double South, double North, double West, double East)> Boxes = new()
    {
        ["IT"] = (45.4, 46.7, 12.0, 14.0),
        ["SI"] = (45.4, 46.9, 13.3, 16.7),
        ["AT"] = (46.3, 47.9, 12.8, 15.9),
        ["DE"] = (47.3, 54.6, 10.7, 13.1),
        ["HU"] = (46.3, 47.6, 16.4, 19.1),
        ["DK"] = (54.5, 55.7, 11.2, 12.8),
        ["SE"] = (55.5, 55.7, 12.7, 13.2),
    };

    public static TheoryData<string> Names => [.. Route.All.Select(r => r.Name)];

    [Fact]
    public void There_are_a_handful_through_several_countries_one_by_ship()
    {
        Assert.InRange(Route.All.Length, 4, 10);
        Assert.True(Route.All.SelectMany(r => r.Points).Select(p => p.Country).Distinct().Count() >= 3);
        Assert.Contains(Route.All, r => r.Points.Any(p => p.Road == RoadClass.Ferry));
        Assert.All(Route.All, r => Assert.True(r.Points.Select(p => p.Country).Distinct().Count() >= 2, r.Name));
        Assert.All(Enum.GetValues<RoadClass>(), road => Assert.Contains(Route.All, r => r.Points.Any(p => p.Road == road)));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_point_lies_in_its_country_not_far_from_the_one_before(string name)
    {
        var points = Route.All.Single(r => r.Name == name).Points;
        Assert.All(points, p =>
        {
            var (south, north, west, east) = Boxes[p.Country];
            Assert.InRange(p.Latitude, south, north);
            Assert.InRange(p.Longitude, west, east);
            Assert.InRange(p.Altitude, 0, 1500);
        });
        foreach (var (a, b) in points.Zip(points.Skip(1)))
        {
            var metres = Earth.Metres((a.Latitude, a.Longitude), (b.Latitude, b.Longitude));
            Assert.InRange(metres, 500, 50_000);
            Assert.True(Math.Abs(b.Altitude - a.Altitude) / metres <= 0.06, $"{name}: {a} to {b} is steeper than 6 %.");
        }
    }
}

/// <summary>Distances on a sphere, by the haversine formula: not as the simulator reckons them.</summary>
internal static class Earth
{
    private const double Radius = 6_371_000;

    public static double Metres((double Latitude, double Longitude) a, (double Latitude, double Longitude) b)
    {
        double north = Radians(b.Latitude - a.Latitude) / 2, east = Radians(b.Longitude - a.Longitude) / 2;
        var h = Math.Pow(Math.Sin(north), 2) + Math.Cos(Radians(a.Latitude)) * Math.Cos(Radians(b.Latitude)) * Math.Pow(Math.Sin(east), 2);
        return 2 * Radius * Math.Asin(Math.Sqrt(h));
    }

    private static double Radians(double degrees) => degrees * Math.PI / 180;
}
