using System.Text;
using System.Text.Json;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Messages.Running;
using AxleTelemetry.Messages.Tests.VehicleFiles;
using AxleTelemetry.Messages.VehicleFiles;
using Json.Schema;

namespace AxleTelemetry.Messages.Tests.Running;

public sealed class AssumptionsFileTests
{
    /// <summary>
    /// Exponent and reference fraction, Regulation (EU) 2017/2400; 42.7 MJ/kg, 2.97 and 3.76 kg CO2e/kg, EN 16258 B7 (published). Density 0.832 kg/l
    /// (weak copy). 40 N a hub, sd 20 (common practice).
    /// </summary>
    [Theory]
    [InlineData(Assumption.Beta, 0.9, AssumedStatus.Published)]
    [InlineData(Assumption.ReferenceFraction, 0.85, AssumedStatus.Published)]
    [InlineData(Assumption.FuelEnergy, 42.7, AssumedStatus.Published)]
    [InlineData(Assumption.TankToWheel, 2.97, AssumedStatus.Published)]
    [InlineData(Assumption.WellToWheel, 3.76, AssumedStatus.Published)]
    [InlineData(Assumption.FuelDensity, 0.832, AssumedStatus.WeakCopy)]
    [InlineData(Assumption.HubDrag, 40, AssumedStatus.CommonPractice)]
    public void Shipped_values_are_those_of_their_sources(Assumption assumption, double value, AssumedStatus status)
    {
        Assert.Equal(value, AssumptionsFile.Shipped[assumption].Value);
        Assert.Equal(status, AssumptionsFile.Shipped[assumption].Status);
    }

    [Fact]
    public void Every_shipped_price_says_that_the_owner_must_set_it() =>
        Assert.All(AssumptionTerm.All.Where(t => t.Unit.StartsWith("money", StringComparison.Ordinal)),
            t => Assert.Equal(AssumedStatus.OwnerMustSet, AssumptionsFile.Shipped[t.Assumption].Status));

    [Fact]
    public void What_work_is_run_by_is_what_the_domain_has_by_default() =>
        Assert.Equal(RunningRules.Default, AssumptionsFile.Shipped.Rules);

    [Fact]
    public void An_owner_changes_single_values_and_the_rest_stays()
    {
        var read = Accepted("""{ "currency": "SEK", "values": { "fuel_price": { "value": 16.4 }, /* weighed */ "lift_mass": { "value": 95, "sd": 2, "source": "workshop", "status": "owners" }, } }""");
        Assert.Equal("SEK", read.Currency);
        Assert.Equal(new Assumed(16.4, 0, "money/l", "owner's file", AssumedStatus.Owners), read[Assumption.FuelPrice]);
        Assert.Equal(new Assumed(95, 2, "kg", "workshop", AssumedStatus.Owners), read[Assumption.LiftMass]);
        Assert.Equal(AssumptionsFile.Shipped[Assumption.HubDrag], read[Assumption.HubDrag]);
    }

    [Fact]
    public void Without_a_spread_of_its_own_a_value_keeps_the_shipped_one() =>
        Assert.Equal(20, Accepted("""{ "values": { "hub_drag": { "value": 60 } } }""")[Assumption.HubDrag].Sd);

    [Fact]
    public void Every_error_comes_back_at_once_with_its_place()
    {
        var problems = Refused("""
            {
              "currency": "euro",
              "values": {
                "hub_drg": { "value": 40 },
                "fuel_price": { "value": "1.50" },
                "beta": { "value": 3 },
                "tread_volume": { "sd": 1 },
                "lift_mass": { "value": 5 },
                "road_speed": { "value": 80, "unit": "m/s" },
                "fuel_density": { "value": 0.83, "value": 0.84 },
              },
            }
            """);
        Assert.Equal(
        [
            (ProblemKind.BadText, "$.currency", 2), (ProblemKind.UnknownName, "$.values.hub_drg", 4), (ProblemKind.WrongType, "$.values.fuel_price.value", 5),
            (ProblemKind.OutOfRange, "$.values.beta.value", 6), (ProblemKind.Missing, "$.values.tread_volume.value", 7),
            (ProblemKind.OutOfRange, "$.values.lift_mass.value", 8), (ProblemKind.NotAChoice, "$.values.road_speed.unit", 9),
            (ProblemKind.RepeatedName, "$.values.fuel_density.value", 10),
        ], problems.Select(p => (p.Kind, p.Path, p.Place.Line)));
        Assert.Contains("Did you mean 'hub_drag'?", problems[1].Right);
    }

    [Theory]
    [InlineData("""{ "values": { "driveline_efficiency": { "value": 0.4, "sd": 0.3 } } }""", "$.values.driveline_efficiency.sd")]
    [InlineData("""{ "values": { "fuel_energy": { "value": 42.7, "sd": 22 } } }""", "$.values.fuel_energy.sd")]
    [InlineData("""{ "currency": "eur", "values": { } }""", "$.currency")]
    [InlineData("""[ 1 ]""", "$")]
    [InlineData("""{ "values": [] }""", "$.values")]
    [InlineData("""{ }""", "$.values")]
    public void Each_mistake_is_told_where_it_is(string text, string path) => Assert.Equal(path, Assert.Single(Refused(text)).Path);

    [Theory]
    [InlineData("")]
    [InlineData("{")]
    [InlineData("null")]
    public void What_is_no_such_file_is_refused(string text) => Assert.Single(Refused(text));

    [Fact]
    public void Parser_and_schema_agree_on_every_property()
    {
        using var schema = JsonDocument.Parse(AssumptionsFile.SchemaText());
        new SchemaAgreement(schema.RootElement).OnObject(AssumptionsShape.File, schema.RootElement, "$");
    }

    [Fact]
    public void The_shipped_file_is_valid_by_the_schema()
    {
        using var shipped = JsonDocument.Parse(AssumptionsFile.ShippedText());
        Assert.True(JsonSchema.FromText(Encoding.UTF8.GetString(AssumptionsFile.SchemaText())).Evaluate(shipped.RootElement).IsValid);
    }

    private static Assumptions Accepted(string text) =>
        Assert.IsType<AssumptionsResult.Accepted>(AssumptionsFile.Parse(Encoding.UTF8.GetBytes(text))).Assumptions;

    private static Problem[] Refused(string text) =>
        [.. Assert.IsType<AssumptionsResult.Refused>(AssumptionsFile.Parse(Encoding.UTF8.GetBytes(text))).Problems];
}
