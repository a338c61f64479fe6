using System.Text;
using System.Text.Json;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Messages.Permits;
using AxleTelemetry.Messages.Tests.VehicleFiles;
using AxleTelemetry.Messages.VehicleFiles;
using Json.Schema;

namespace AxleTelemetry.Messages.Tests.Permits;

public sealed class PermitsFileTests
{
    private const string Good = """
        { "permits": [ { "id": "P-1", "authority": "an authority", "vehicles": ["T-1", "S-2"], "countries": ["SE", "fi"], "from": "2026-03-01", "until": "2026-08-31",
          "most_speed_kmh": 72, "lowered": ["T-1/tag"], "obligations": ["by day"], // as granted
          "limits": [ { "axles": ["T-1/drive", "T-1/tag"], "most_kg": 21000, "clause": "2" }, { "gross": "S-2", "most_kg": 42000 }, { "combination": true, "most_kg": 60000 }, ] } ] }
        """;

    [Fact]
    public void Everything_that_is_written_is_there()
    {
        var permit = Assert.Single(Assert.IsType<PermitsResult.Accepted>(Parse(Good)).Permits);
        Assert.Equal(("P-1", "an authority", new DateOnly(2026, 3, 1), new DateOnly(2026, 8, 31), 20.0), (permit.Id, permit.Authority, permit.From, permit.Until, permit.MostSpeed));
        Assert.Equal("T-1 S-2 SE FI T-1/tag by day", string.Join(' ', [.. permit.Vehicles, .. permit.Countries.Select(c => c.Code), .. permit.Lowered.Select(a => a.ToString()), .. permit.Obligations]));
        Assert.Equal([21_000, 42_000, 60_000], permit.Masses.Select(m => m.Kilograms));
        Assert.Equal(["T-1/drive", "T-1/tag"], Assert.IsType<PermittedMass.OfAxles>(permit.Masses[0]).Axles.Select(a => a.ToString()));
        Assert.Equal(("S-2", ""), (Assert.IsType<PermittedMass.OfVehicle>(permit.Masses[1]).Vehicle, permit.Masses[1].Clause));
        Assert.IsType<PermittedMass.OfCombination>(permit.Masses[2]);
    }

    [Theory]
    [InlineData("\"id\": \"P-1\",", "", "$.permits[0].id")]
    [InlineData("2026-08-31", "2026-02-31", "$.permits[0].until")]
    [InlineData("2026-08-31", "2026-02-28", "$.permits[0].until")]
    [InlineData("\"SE\"", "\"S1\"", "$.permits[0].countries[0]")]
    [InlineData("\"T-1/tag\"], \"obl", "\"tag\"], \"obl", "$.permits[0].lowered[0]")]
    [InlineData("\"T-1/drive\", \"T-1/tag\"", "\"T-1/drive\", \"T-1/drive\"", "$.permits[0].limits[0].axles[1]")]
    [InlineData("\"gross\": \"S-2\", ", "", "$.permits[0].limits[1]")]
    [InlineData("\"gross\": \"S-2\"", "\"gross\": \"S-2\", \"combination\": true", "$.permits[0].limits[1]")]
    [InlineData("\"combination\": true", "\"combination\": false", "$.permits[0].limits[2].combination")]
    [InlineData("60000", "60", "$.permits[0].limits[2].most_kg")]
    [InlineData("\"most_speed_kmh\"", "\"most_speed\"", "$.permits[0].most_speed")]
    [InlineData("{ \"permits\"", "{ \"permit\": [], \"permits\"", "$.permit")]
    public void Each_mistake_is_told_where_it_is(string good, string bad, string path)
    {
        Assert.Contains(good, Good);
        var problem = Assert.Single(Assert.IsType<PermitsResult.Refused>(Parse(Good.Replace(good, bad, StringComparison.Ordinal))).Problems);
        Assert.Equal(path, problem.Path);
        Assert.NotEqual("", problem.Right);
    }

    [Fact]
    public void Two_of_one_id_are_refused()
    {
        using var one = JsonDocument.Parse(Good, new() { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true });
        var permit = one.RootElement.GetProperty("permits")[0].GetRawText();
        Assert.Equal("$.permits[1].id", Assert.Single(Assert.IsType<PermitsResult.Refused>(Parse($$"""{ "permits": [ {{permit}}, {{permit}} ] }""")).Problems).Path);
    }

    [Theory]
    [InlineData("")]
    [InlineData("[]")]
    [InlineData("null")]
    [InlineData("{}")]
    public void What_is_no_such_file_is_refused(string text) => Assert.IsType<PermitsResult.Refused>(Parse(text));

    [Fact]
    public void Parser_and_schema_agree_on_every_property()
    {
        using var schema = JsonDocument.Parse(Schema());
        new SchemaAgreement(schema.RootElement).OnObject(PermitsShape.File, schema.RootElement, "$");
    }

    [Fact]
    public void The_example_is_taken_and_valid_by_the_schema()
    {
        var text = File.ReadAllText(Path.Combine(Examples.Directory, "permits", "rt-01.json"));
        Assert.IsType<PermitsResult.Accepted>(Parse(text));
        using var example = JsonDocument.Parse(text, new() { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true });
        Assert.True(JsonSchema.FromText(Schema()).Evaluate(example.RootElement).IsValid);
    }

    private static string Schema()
    {
        using var reader = new StreamReader(PermitsFile.OpenSchema());
        return reader.ReadToEnd();
    }

    private static PermitsResult Parse(string text) => PermitsFile.Parse(Encoding.UTF8.GetBytes(text));
}
