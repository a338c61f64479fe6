using System.Text;
using System.Text.Json.Nodes;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Tests.VehicleFiles;

public sealed class RefusalTests
{
    [Theory]
    [MemberData(nameof(Refusals.OfText), MemberType = typeof(Refusals))]
    [MemberData(nameof(Refusals.OfShape), MemberType = typeof(Refusals))]
    [MemberData(nameof(Refusals.OfWhole), MemberType = typeof(Refusals))]
    public void A_file_with_a_mistake_is_refused_for_it_at_its_place(Refusal refusal)
    {
        var result = VehicleFile.Parse(refusal.Text);
        Assert.IsType<VehicleFileResult.Refused>(result);
        Assert.Contains((refusal.Kind, refusal.Path), result.Problems.Select(p => (p.Kind, p.Path)));
        AssertReadable(result);
    }

    [Theory]
    [MemberData(nameof(Refusals.Oddities), MemberType = typeof(Refusals))]
    public void A_file_with_an_oddity_is_accepted_and_the_oddity_told(Refusal refusal)
    {
        var result = VehicleFile.Parse(refusal.Text);
        Assert.IsType<VehicleFileResult.Accepted>(result);
        Assert.Contains((refusal.Kind, refusal.Path), result.Problems.Select(p => (p.Kind, p.Path)));
        AssertReadable(result);
    }

    [Fact]
    public void Every_kind_of_problem_has_its_file()
    {
        var shown = new[] { Refusals.OfText, Refusals.OfShape, Refusals.OfWhole, Refusals.Oddities }
            .SelectMany(set => set).Select(row => row.Data.Kind).Distinct().Order();
        Assert.Equal(Enum.GetValues<ProblemKind>().Except(Settings.SettingsFileTests.OwnKinds).Order(), shown);
    }

    [Fact]
    public void Many_mistakes_are_told_at_once_each_with_its_path_and_line()
    {
        var vehicle = JsonNode.Parse(Examples.Bytes("rigid-6x2-tag.json"))!;
        vehicle["kind"] = "rigit";
        vehicle["axles"]![1]!["rating_kg"] = 115000;
        vehicle["axles"]![2]!["x_m"] = 4.0;
        vehicle["rear"]!["axles"]![1] = "tga";
        vehicle["kerb"]!["raised"] = new JsonArray("tag", "drive");
        vehicle["load_space"]!["front_x_m"] = 9;
        vehicle["colour"] = "red";
        var problems = VehicleFile.Parse(Encoding.UTF8.GetBytes(vehicle.ToString())).Problems;

        Assert.Equal(
            [
                "$.axles[1].rating_kg", "$.axles[2].x_m", "$.colour", "$.kerb.axle_loads_kg.drive", "$.kerb.raised[1]",
                "$.kind", "$.load_space.front_x_m", "$.rear.axles[1]",
            ],
            problems.Select(p => p.Path).Order(StringComparer.Ordinal));
        Assert.All(problems, p => Assert.True(p.Place.Line > 1, p.ToString()));
        Assert.Equal(problems.Select(p => p.Place.Line).Order(), problems.Select(p => p.Place.Line));
    }

    [Theory]
    [InlineData("ratting_kg", "rating_kg")]
    [InlineData("Rating_kg", "rating_kg")]
    [InlineData("registerd_kg", "registered_kg")]
    [InlineData("unsprung", "unsprung_kg")]
    public void A_misspelt_name_is_answered_with_the_nearest_known_one(string written, string meant)
    {
        var vehicle = JsonNode.Parse(Examples.Bytes("tractor-4x2.json"))!;
        vehicle["axles"]![0]![written] = 1;
        var problem = Assert.Single(VehicleFile.Parse(Encoding.UTF8.GetBytes(vehicle.ToJsonString())).Problems);
        Assert.Contains($"Did you mean '{meant}'?", problem.Right);
    }

    [Fact]
    public void A_problem_names_line_and_column_of_the_value()
    {
        var problem = VehicleFile.Parse("{\n  \"id\": 7\n}"u8).Problems.First(p => p.Kind == ProblemKind.WrongType);
        Assert.Equal(new TextPlace(2, 9), problem.Place);
    }

    private static void AssertReadable(VehicleFileResult result) => Assert.All(result.Problems, p =>
    {
        Assert.Matches("[.?]$", p.Right);
        Assert.StartsWith("$", p.Path);
    });
}
