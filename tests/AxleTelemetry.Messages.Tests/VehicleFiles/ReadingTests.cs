using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Tests.VehicleFiles;

public sealed class ReadingTests
{
    private static readonly byte[] Everything = File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "everything.json"));

    public static TheoryData<string> All => [.. Examples.Names];

    [Fact]
    public void Every_property_reaches_the_description()
    {
        var v = Read(Everything);
        Assert.Equal(("EV-99", "Every property there is", "EV 0099", VehicleKind.Rigid), (v.Id, v.Name, v.Plate, v.Kind));
        Assert.Equal(
            new Axle
            {
                Key = "steer", Role = AxleRole.Steer, Position = default, Unsprung = Kg(701), UnsprungSd = Kg(31), Steering = Steering.Steered, Rating = Kg(8001),
                Registered = Kg(7501), Tyres = new Tyres { Count = 2, Capacity = Kg(8002), Radius = M(0.48), RollingResistance = 4.5 },
            },
            v.Axles[0]);
        Assert.Equal((Kg(10001), (Mass?)null, Kg(40)), (v.Axles[1].CeilingForce, v.Axles[1].RegulatedForce, v.Axles[1].UnsprungSd));
        Assert.Equal(new Lift { RaiseBelow = 0.8, LowerAbove = 0.95, MovingOffAid = 0.25, CanUnload = true }, v.Axles[2].Lift);
        Assert.Equal((Steering.SelfSteering, new Lift(), Kg(5001)), (v.Axles[2].Steering, v.Axles[3].Lift, v.Axles[3].RegulatedForce));
        Assert.Equal(("nose", "tail", ShareLaw.ControlLaw, false), (v.Front!.Name, v.Rear.Name, v.Rear.Law, v.Front.AirSuspension));
        Assert.Equal([1, 2, 3], v.Rear.Axles);
        Assert.Equal(["normal", "traction"], v.Modes.Select(m => m.Name));
        Assert.Equal([1, 1, 0.6, 0], v.Modes[0].Weights);
        Assert.Equal([0, 50, -50, 0], v.Modes[0].OffsetKilograms);
        Assert.Equal([1, 1, 0.2, 0], v.Modes[1].Weights);
        Assert.Equal(new Fixture { Name = "crane", Mass = Kg(2100), Position = M(1.4), State = FixtureState.On, InKerbWeighing = true }, v.Fixtures.Single());
        Assert.Equal(new ServiceLoad { Mean = Kg(260), Sd = Kg(110), Position = M(1.6) }, v.Service);
        Assert.Equal([Kg(5000), Kg(4900), Kg(0), Kg(0)], v.Kerb.AxleLoads);
        Assert.Equal((Kg(120), Kg(45), M(0.9), "once"), (v.Kerb.ServiceAboard, v.Kerb.Sd, v.Kerb.Height, v.Kerb.Note));
        Assert.Equal(
            new LoadSpace { Front = M(1.8), Rear = M(8.2), Permitted = Kg(14000), ExpectedCentre = M(5.1), PartLoadSd = M(0.5), FullLoadSd = M(0.2), Height = M(1.7), Discharges = true },
            v.LoadSpace);
        Assert.Equal(
            new Coupling { Position = M(8.4), Sd = M(0.02), Height = M(0.95), Least = Kg(-100), Most = Kg(1001), TravelFrom = M(8.3), TravelTo = M(8.5) },
            v.RearCoupling);
        Assert.Equal(new RegisteredMasses { Gross = Kg(30000), Combination = Kg(44000), RearGroup = Kg(24000) }, v.Registered);
        Assert.Equal(new DriveEnergy { Kind = DriveEnergyKind.ZeroEmission, ExtraMass = Mass.FromKilograms(1_200) }, v.Energy);
        Assert.Equal(new AirDrag { AreaSquareMetres = 5.5, Height = M(2.1) }, v.Drag);
    }

    [Fact]
    public void A_sensor_gets_its_prior_from_the_bellows_or_as_written()
    {
        var v = Read(Everything);
        var (left, plain) = (v.Sensors[0], v.Sensors[1]);
        Assert.Equal((CircuitSide.Left, PressureReference.Sealed), (left.Side, left.Reference));
        Assert.Equal((25, 1200), (left.RaisedResidual.Kilopascals, left.FullScale.Kilopascals));
        // Two bellows of 0.04 m2 at lever 2 lift 0.16 kN for each kPa.
        Assert.Equal(0.16 * 1000 / 9.80665, left.Handbook.KilogramsPerKilopascal, 1e-9);
        Assert.Equal((12.5, 0.0, 150.0 * 150.0), (plain.Handbook.KilogramsPerKilopascal, plain.Handbook.OffsetKilograms, plain.Handbook.OffsetVariance));
        Assert.Equal(Math.Pow(0.06 * 12.5, 2), plain.Handbook.GainVariance, 1e-12);
        Assert.Equal(0.015 * 7502, plain.Handbook.ResidualKilograms, 1e-9);
        Assert.Equal(("handbook", 0), (plain.Handbook.Version, plain.Handbook.Tickets));
    }

    [Fact]
    public void A_drawbar_trailer_and_a_dolly_are_read_too()
    {
        const string Dolly = """
            {
              "id": "DB-09", "kind": "drawbar-trailer",
              "axles": [
                { "key": "turntable", "role": "trailer", "x_m": 2.5, "unsprung_kg": 800, "steering": "steered", "rating_kg": 9000, "tyres": { "count": 4, "capacity_kg": 9000 } },
                { "key": "rear", "role": "trailer", "x_m": 6.8, "unsprung_kg": 750, "rating_kg": 9000, "tyres": { "count": 4, "capacity_kg": 9000 } }
              ],
              "front": { "axles": ["turntable"] }, "rear": { "axles": ["rear"] },
              "kerb": { "axle_loads_kg": { "turntable": 2600, "rear": 2300 } },
              "front_coupling": {}, "rear_coupling": { "x_m": 4.5 },
              "registered": { "gross_kg": 18000 }
            }
            """;
        var dolly = Read(Encoding.UTF8.GetBytes(Dolly));
        Assert.Equal((VehicleKind.DrawbarTrailer, null, null), (dolly.Kind, dolly.LoadSpace, dolly.Service));
        Assert.Equal([0], dolly.Front!.Axles);
    }

    [Fact]
    public void The_file_with_everything_leaves_no_property_out()
    {
        var written = new HashSet<string>();
        using var document = JsonDocument.Parse(Everything, new JsonDocumentOptions { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true });
        Names(document.RootElement, written);
        var known = new HashSet<string>();
        Names(VehicleShape.Vehicle, known);
        // These belong to another kind of vehicle, or to a file without modes.
        Assert.Equal(["coupling_load_kg", "front_coupling", "offset_kg", "share"], known.Except(written).Order());
    }

    [Theory, MemberData(nameof(All))]
    public void Order_of_properties_spacing_and_comments_change_nothing(string name)
    {
        var shuffled = Reversed(JsonNode.Parse(Examples.Bytes(name)))!.ToJsonString();
        var again = Read(Encoding.UTF8.GetBytes("\uFEFF/* by hand */ " + shuffled + " // end"));
        Assert.Equal(JsonSerializer.Serialize(Examples.Vehicle(name)), JsonSerializer.Serialize(again));
    }

    private static VehicleDescription Read(byte[] text)
    {
        var result = VehicleFile.Parse(text);
        return result is VehicleFileResult.Accepted accepted ? accepted.Vehicle : throw new InvalidOperationException(string.Join("\n", result.Problems));
    }

    private static JsonNode? Reversed(JsonNode? node) => node switch
    {
        JsonObject o => new JsonObject(o.Reverse().Select(p => KeyValuePair.Create(p.Key, Reversed(p.Value)))),
        JsonArray a => new JsonArray([.. a.Select(Reversed)]),
        _ => node?.DeepClone(),
    };

    private static void Names(JsonElement element, HashSet<string> into)
    {
        if (element.ValueKind == JsonValueKind.Array)
            foreach (var item in element.EnumerateArray()) Names(item, into);
        if (element.ValueKind != JsonValueKind.Object) return;
        foreach (var property in element.EnumerateObject())
        {
            into.Add(property.Name);
            Names(property.Value, into);
        }
    }

    private static void Names(Shape shape, HashSet<string> into)
    {
        foreach (var property in shape.Properties)
        {
            into.Add(property.Name);
            if (property.Form is Form.Part part) Names(part.Shape, into);
            if (property.Form is Form.List { Item: Form.Part item }) Names(item.Shape, into);
        }
    }

    private static Mass Kg(double value) => Mass.FromKilograms(value);

    private static Length M(double value) => Length.FromMetres(value);
}
