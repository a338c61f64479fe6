using System.IO.Compression;
using System.Text;
using AxleTelemetry.Domain.Places;

namespace AxleTelemetry.Places.Tests;

/// <summary>A map of two squares of a degree each that meet at 10 degrees east, from 0 to 1 degrees north: geometry by hand.</summary>
public sealed class TwoSquaresTests
{
    private static readonly CountryMap Map = CountryMap.Open(Gzip("""
        {"scale":[0.01,0.01],"translate":[0,0],
         "arcs":[[[1000,0],[0,100]],[[1000,100],[-100,0],[0,-100],[100,0]],[[1000,0],[100,0],[0,100],[-100,0]]],
         "countries":[{"code":"AA","polygons":[[[0,1]]]},{"code":"BB","polygons":[[[2,-1]]]},{"code":null,"polygons":[[[1]]]}]}
        """));

    [Fact]
    public void A_kilometre_west_of_the_border_it_lies_a_kilometre_east()
    {
        // At half a degree north a degree east is 111 316 m on WGS 84.
        var at = Map.At(0.5, 10 - 1000 / 111_316.0, 5);
        Assert.Equal((PlaceKind.NearBorder, "AA", "BB"), (at.Kind, at.Here.Code, at.Across.Code));
        Assert.Equal(1000, at.BorderMetres, 0);
        Assert.Equal(90, at.BorderBearing, 6);
    }

    [Theory]
    [InlineData(5, 254, PlaceKind.Undecided)]
    [InlineData(5, 256, PlaceKind.NearBorder)]
    [InlineData(5, 1_999, PlaceKind.NearBorder)]
    [InlineData(5, 2_001, PlaceKind.Within)]
    [InlineData(1_000, 2_999, PlaceKind.NearBorder)]
    [InlineData(1_000, 3_001, PlaceKind.Within)]
    [InlineData(10_000, 10_249, PlaceKind.Undecided)]
    [InlineData(10_000, 29_999, PlaceKind.NearBorder)]
    public void The_band_is_two_kilometres_or_three_accuracies(double accuracy, double metres, PlaceKind kind)
    {
        var at = Map.At(0.5, 10 + metres / 111_316.0, accuracy);
        Assert.Equal((kind, "BB"), (at.Kind, at.Here.Code));
    }

    [Fact]
    public void A_quay_belongs_to_its_coast_and_a_coast_is_no_border()
    {
        Assert.Equal((PlaceKind.Within, "AA"), Of(Map.At(0.5, 9 - 1_900 / 111_316.0, 5)));
        Assert.Equal(PlaceKind.Nowhere, Map.At(0.5, 9 - 2_100 / 111_316.0, 5).Kind);
        Assert.Equal((PlaceKind.Within, "AA"), Of(Map.At(0.5, 9 + 100 / 111_316.0, 5)));
    }

    [Fact]
    public void What_is_no_outline_is_refused_with_what_would_be_right()
    {
        Assert.Contains("scale, translate, arcs and countries", Assert.Throws<InvalidDataException>(() => CountryMap.Open(Gzip("{}"))).Message);
        Assert.Throws<InvalidDataException>(() => CountryMap.Open(Gzip("no json")));
        Assert.Throws<InvalidDataException>(() => CountryMap.Open(new MemoryStream([1, 2, 3])));
    }

    private static (PlaceKind, string) Of(Whereabouts at) => (at.Kind, at.Here.Code);

    private static MemoryStream Gzip(string text)
    {
        var bytes = new MemoryStream();
        using (var gzip = new GZipStream(bytes, CompressionLevel.Fastest, leaveOpen: true)) gzip.Write(Encoding.UTF8.GetBytes(text));
        bytes.Position = 0;
        return bytes;
    }
}
