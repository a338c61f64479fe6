using AxleTelemetry.Domain.Places;

namespace AxleTelemetry.Domain.Tests.Places;

public sealed class EarthTests
{
    /// <summary>Flinders Peak to Buninyong, 54 972.271 m on GRS80 (GDA manual; published). A sphere is off by up to 0.6 %.</summary>
    [Fact]
    public void Distance_is_the_published_geodesic_within_a_thousandth()
    {
        var flinders = new GeoPoint(-Degrees(37, 57, 3.72030), Degrees(144, 25, 29.52440));
        var buninyong = new GeoPoint(-Degrees(37, 39, 10.15610), Degrees(143, 55, 35.38390));
        Assert.InRange(Earth.Metres(flinders, buninyong), 54_972.271 * 0.999, 54_972.271 * 1.001);
        Assert.InRange(Earth.Metres(flinders, buninyong), 54_972.271 * 0.9999, 54_972.271 * 1.0001);
    }

    [Fact]
    public void The_date_line_is_no_way_round() =>
        Assert.Equal(Earth.Metres(new(10, -0.01), new(10, 0.01)), Earth.Metres(new(10, 179.99), new(10, -179.99)), 1e-6);

    [Fact]
    public void East_and_north_are_where_they_should_be()
    {
        var (east, north) = Earth.Plane(new GeoPoint(47, 15), new GeoPoint(47.001, 14.999));
        Assert.True(east < 0 && north > 0);
    }

    private static double Degrees(double degrees, double minutes, double seconds) => degrees + minutes / 60 + seconds / 3_600;
}
