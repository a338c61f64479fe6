using System.Text.Json;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Web.Look;
using AxleTelemetry.Web.Register;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Web.Tests.Register;

public sealed class RegisterFileTests
{
    [Theory]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("-cmd", "'-cmd")]
    [InlineData("AB, 12", "\"AB, 12\"")]
    [InlineData("say \"so\"", "\"say \"\"so\"\"\"")]
    public void What_would_be_a_formula_or_end_a_field_is_a_text(string plate, string written) =>
        Assert.Contains($",{written},", TableFile.Csv(RegisterTable.Columns, [Line(plate)]));

    [Fact]
    public void Json_has_the_names_of_the_csv_and_numbers_as_numbers()
    {
        var line = Line("=1+1") with { Limit = 11500.4, Peak = new Estimated(-12.4, 100), Latitude = 46.5 };
        using var json = JsonDocument.Parse(TableFile.Json(RegisterTable.Columns, [line]));
        var row = json.RootElement[0];
        Assert.Equal(RegisterTable.Columns.Select(c => c.Name), row.EnumerateObject().Select(p => p.Name));
        Assert.Equal((11500, -12, 46.5), (row.GetProperty("limit_kg").GetDouble(), row.GetProperty("peak_excess_kg").GetDouble(), row.GetProperty("latitude_deg").GetDouble()));
        Assert.Equal(("=1+1", JsonValueKind.Null), (row.GetProperty("plate").GetString(), row.GetProperty("ended").ValueKind));
        Assert.Contains(",11500,-12,", TableFile.Csv(RegisterTable.Columns, [line]));
    }

    [Fact]
    public void A_place_is_read_with_its_distance_or_ten_kilometres()
    {
        Assert.Equal((46.1, 14.5, 20), RegisterFilter.ReadPlace("46.1, 14.5, 20"));
        Assert.Equal((46.1, 14.5, 10), RegisterFilter.ReadPlace("46.1 14.5"));
        Assert.Null(RegisterFilter.ReadPlace("Ljubljana"));
        Assert.Null(RegisterFilter.ReadPlace("91 0 1"));
    }

    [Fact]
    public void A_degree_of_latitude_is_111_kilometres()
    {
        // 2 pi x 6371 km / 360.
        var line = Line("") with { Latitude = 47, Longitude = 14 };
        Assert.True(new RegisterFilter("", (46, 14, 111.3)).Fits(line));
        Assert.False(new RegisterFilter("", (46, 14, 111.1)).Fits(line));
    }

    [Theory]
    [InlineData(40.416, -3.703, "40.42 N 3.70 W")]
    [InlineData(-33.9, 18.4, "33.90 S 18.40 E")]
    public void A_place_is_told_on_its_side_of_the_meridian(double latitude, double longitude, string told) => Assert.Equal(told, Told.Place(latitude, longitude));

    private static EpisodeLine Line(string plate) => new()
    {
        Vehicle = new("own", "RT-01"), Plate = plate, About = "gross over its limit", Finding = default, Since = new Moment(0), Ended = null, Reached = Level.Surely, Sentence = "",
    };
}
