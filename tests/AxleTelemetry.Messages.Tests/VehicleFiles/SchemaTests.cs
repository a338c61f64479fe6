using System.Text.Json;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.VehicleFiles;
using Json.Schema;

namespace AxleTelemetry.Messages.Tests.VehicleFiles;

public sealed class SchemaTests
{
    private static readonly JsonElement Root = Load();
    private static readonly JsonSchema Schema = JsonSchema.FromText(Root.GetRawText());

    public static TheoryData<string> All => [.. Examples.Names];

    [Theory, MemberData(nameof(All))]
    public void An_example_is_valid_by_the_schema(string name)
    {
        using var document = JsonDocument.Parse(Examples.Bytes(name));
        Assert.True(Schema.Evaluate(document.RootElement).IsValid);
    }

    [Theory, MemberData(nameof(Refusals.OfShape), MemberType = typeof(Refusals))]
    public void What_the_parser_refuses_for_its_shape_the_schema_refuses_too(Refusal refusal)
    {
        using var document = JsonDocument.Parse(refusal.Text);
        Assert.False(Schema.Evaluate(document.RootElement).IsValid);
    }

    [Fact]
    public void Parser_and_schema_agree_on_every_property()
    {
        Assert.Equal("https://json-schema.org/draft/2020-12/schema", Root.GetProperty("$schema").GetString());
        new SchemaAgreement(Root).OnObject(VehicleShape.Vehicle, Root, "$");
    }

    [Fact]
    public void The_defaults_that_editors_show_are_those_that_hold()
    {
        var (lift, kerb, service, drag) = (new Lift(), new KerbWeighing { AxleLoads = [] }, new ServiceLoad(), new AirDrag());
        var tyres = new Tyres { Count = 2, Capacity = default };
        var space = new LoadSpace { Front = default, Rear = default, Permitted = default };
        var coupling = new Coupling { Position = default };
        var sensor = Examples.Vehicle("tractor-4x2.json").Sensors[0];
        (string Where, double Holds)[] defaults =
        [
            ("lift.raise_below", lift.RaiseBelow), ("lift.lower_above", lift.LowerAbove), ("lift.moving_off_aid", lift.MovingOffAid),
            ("tyres.radius_m", tyres.Radius.Metres), ("tyres.rolling_resistance_n_per_kn", tyres.RollingResistance),
            ("axle.unsprung_sd_kg", Examples.Vehicle("tractor-4x2.json").Axles[0].UnsprungSd.Kilograms), ("axle.share", 1), ("axle.offset_kg", 0),
            ("sensor.raised_residual_kpa", sensor.RaisedResidual.Kilopascals), ("sensor.full_scale_kpa", sensor.FullScale.Kilopascals),
            ("kerb.service_aboard_kg", kerb.ServiceAboard.Kilograms), ("kerb.sd_kg", kerb.Sd.Kilograms), ("kerb.height_m", kerb.Height.Metres),
            ("service.mean_kg", service.Mean.Kilograms), ("service.sd_kg", service.Sd.Kilograms), ("service.x_m", service.Position.Metres),
            ("load_space.part_load_sd_m", space.PartLoadSd.Metres), ("load_space.full_load_sd_m", space.FullLoadSd.Metres), ("load_space.height_m", space.Height.Metres),
            ("front_coupling.sd_m", coupling.Sd.Metres), ("front_coupling.height_m", coupling.Height.Metres),
            ("rear_coupling.sd_m", coupling.Sd.Metres), ("rear_coupling.height_m", coupling.Height.Metres),
            ("drag.area_m2", drag.AreaSquareMetres), ("drag.height_m", drag.Height.Metres),
            ("energy.extra_kg", new DriveEnergy().ExtraMass.Kilograms),
        ];
        var shown = Root.GetProperty("$defs").EnumerateObject().Where(d => d.Value.TryGetProperty("properties", out _))
            .SelectMany(d => d.Value.GetProperty("properties").EnumerateObject().Select(p => (Where: $"{d.Name}.{p.Name}", p.Value)))
            .Where(p => p.Value.TryGetProperty("default", out var value) && value.ValueKind == JsonValueKind.Number)
            .Select(p => (p.Where, p.Value.GetProperty("default").GetDouble()));
        Assert.Equal(defaults.Order(), shown.Order());
    }

    private static JsonElement Load()
    {
        using var stream = VehicleFile.OpenSchema();
        using var document = JsonDocument.Parse(stream);
        return document.RootElement.Clone();
    }
}
