using AxleTelemetry.Domain.Places;

namespace AxleTelemetry.Places.Tests;

/// <summary>The shipped outlines against places everybody knows. Coordinates: common geography, from memory.</summary>
public sealed class CountryMapTests
{
    private static CountryMap Map => CountryMap.Shipped;

    [Theory]
    [InlineData(48.20, 16.37, "AT")] // Vienna
    [InlineData(52.52, 13.40, "DE")] // Berlin
    [InlineData(48.86, 2.35, "FR")] // Paris
    [InlineData(41.90, 12.50, "IT")] // Rome
    [InlineData(46.05, 14.51, "SI")] // Ljubljana
    [InlineData(50.85, 4.35, "BE")] // Brussels
    [InlineData(52.37, 4.90, "NL")] // Amsterdam
    [InlineData(55.68, 12.57, "DK")] // Copenhagen
    [InlineData(60.17, 24.94, "FI")] // Helsinki
    [InlineData(59.91, 10.75, "NO")] // Oslo
    [InlineData(40.42, -3.70, "ES")] // Madrid
    [InlineData(38.72, -9.14, "PT")] // Lisbon
    [InlineData(51.51, -0.13, "GB")] // London
    [InlineData(47.50, 19.04, "HU")] // Budapest
    [InlineData(38.90, -77.04, "US")] // Washington
    [InlineData(-33.87, 151.21, "AU")] // Sydney
    public void A_town_is_in_its_country(double latitude, double longitude, string country) => Assert.Equal(country, Map.At(latitude, longitude, 5).Here.Code);

    [Theory]
    [InlineData(47.02, 11.50, "AT", "IT")] // north of the Brenner pass
    [InlineData(46.987, 11.488, "IT", "AT")] // south of it
    [InlineData(48.573, 7.806, "DE", "FR")] // Kehl, at the bridge
    [InlineData(47.843, 12.975, "DE", "AT")] // Freilassing, west of the Saalach
    public void Near_a_border_it_says_what_is_across(double latitude, double longitude, string here, string across)
    {
        var at = Map.At(latitude, longitude, 5);
        Assert.Equal((here, across), (at.Here.Code, at.Across.Code));
        Assert.True(at.Kind is PlaceKind.NearBorder or PlaceKind.Undecided, at.ToString());
        Assert.InRange(at.BorderMetres, 0, 2000);
    }

    [Fact]
    public void North_of_the_Brenner_the_border_lies_in_the_south()
    {
        var at = Map.At(47.015, 11.505, 5);
        Assert.Equal(PlaceKind.NearBorder, at.Kind);
        Assert.InRange(at.BorderBearing, 110, 250);
    }

    [Fact]
    public void A_position_that_may_be_on_either_side_is_undecided()
    {
        // Within 250 m of the border at any accuracy; with a bad accuracy further off too.
        var at = Map.At(47.015, 11.505, 5);
        Assert.Equal(PlaceKind.Undecided, Map.At(47.015, 11.505, at.BorderMetres - 249).Kind);
        Assert.Equal(PlaceKind.NearBorder, Map.At(47.015, 11.505, at.BorderMetres - 251).Kind);
        Assert.Equal(PlaceKind.Undecided, Map.At(47.10, 11.40, 40_000).Kind);
    }

    [Theory]
    [InlineData(51.00, 1.45)] // Strait of Dover
    [InlineData(45.0, 13.0)] // northern Adriatic
    [InlineData(0, -30)] // Atlantic
    [InlineData(double.NaN, 10)]
    [InlineData(91, 10)]
    [InlineData(50, double.PositiveInfinity)]
    public void On_the_sea_and_off_the_earth_is_nowhere(double latitude, double longitude) => Assert.Equal(PlaceKind.Nowhere, Map.At(latitude, longitude, 5).Kind);

    [Fact]
    public void Longitudes_may_go_round_and_poles_are_places()
    {
        Assert.Equal(Map.At(48.2, 16.37, 5), Map.At(48.2, 16.37 - 360, 5));
        Assert.Equal(PlaceKind.Nowhere, Map.At(90, 0, 5).Kind);
        Assert.NotEqual(default, Map.At(-90, 0, 5).ToString());
        Assert.Equal("RU", Map.At(68.0, 179.999, 5).Here.Code);
        Assert.Equal("RU", Map.At(68.0, -179.999, 5).Here.Code);
        Assert.Equal("AQ", Map.At(-85, 30, 5).Here.Code);
    }

    [Fact]
    public void An_unknown_accuracy_is_a_usual_one() => Assert.Equal(Map.At(47.015, 11.505, 25), Map.At(47.015, 11.505, double.NaN));

    [Fact]
    public void Where_it_is_sure_it_agrees_with_the_areas_themselves()
    {
        using var stream = typeof(CountryMap).Assembly.GetManifestResourceStream("countries-10m.json.gz")!;
        var outlines = Outlines.Read(stream);
        var areas = new Areas(outlines);
        var random = new Random(7);
        var (land, near) = (0, 0);
        for (var i = 0; i < 5_000; i++)
        {
            var (latitude, longitude) = (35 + 35 * random.NextDouble(), -12 + 45 * random.NextDouble());
            var at = Map.At(latitude, longitude, 5);
            var number = areas.Of(latitude, longitude);
            if (number == 0) continue;
            land++;
            if (at.Kind != PlaceKind.Within) near++;
            Assert.True(outlines.Countries[number] == at.Here, $"{latitude} {longitude}: {outlines.Countries[number]} by area, {at}");
        }

        Assert.True(land > 2_000 && near > 25, $"{land} on land, {near} near a border");
    }

    [Fact]
    public void A_metre_moves_the_distance_to_a_border_by_a_metre_at_most()
    {
        var random = new Random(8);
        var tried = 0;
        for (var i = 0; i < 200_000 && tried < 500; i++)
        {
            var (latitude, longitude) = (45 + 5 * random.NextDouble(), 5 + 12 * random.NextDouble());
            var (here, there) = (Map.At(latitude, longitude, 5), Map.At(latitude + 9e-6 * random.NextDouble(), longitude, 5));
            if (here.Kind != PlaceKind.NearBorder || there.Kind != PlaceKind.NearBorder || here.Here != there.Here) continue;
            tried++;
            Assert.InRange(there.BorderMetres - here.BorderMetres, -1.02, 1.02);
        }

        Assert.Equal(500, tried);
    }

    [Fact]
    public void The_order_of_questions_and_the_thread_make_no_difference()
    {
        var random = new Random(9);
        var places = Enumerable.Range(0, 2_000).Select(_ => (Latitude: 44 + 8 * random.NextDouble(), Longitude: 4 + 14 * random.NextDouble())).ToArray();
        var shipped = places.Select(p => Map.At(p.Latitude, p.Longitude, 5)).ToArray();
        using var stream = typeof(CountryMap).Assembly.GetManifestResourceStream("countries-10m.json.gz")!;
        var other = CountryMap.Open(stream);
        var again = new Whereabouts[places.Length];
        Parallel.For(0, places.Length, i => again[places.Length - 1 - i] = other.At(places[places.Length - 1 - i].Latitude, places[places.Length - 1 - i].Longitude, 5));
        Assert.Equal(shipped, again);
    }
}
