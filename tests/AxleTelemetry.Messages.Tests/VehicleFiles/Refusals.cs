using System.Text;
using System.Text.Json.Nodes;
using AxleTelemetry.Messages.VehicleFiles;
using static AxleTelemetry.Messages.VehicleFiles.ProblemKind;

namespace AxleTelemetry.Messages.Tests.VehicleFiles;

/// <summary>For every kind of problem the smallest change that brings it about.</summary>
public static class Refusals
{
    private const string Tag = "rigid-6x2-tag", Pusher = "rigid-6x2-pusher", Regulated = "rigid-8x4-regulated-lift";
    private const string Tractor = "tractor-4x2", Sliding = "tractor-6x2-pusher", Semi = "semi-tridem-lift-first", Centre = "trailer-centre-axle";

    public static TheoryData<Refusal> OfText =>
    [
        new Refusal(TooLarge, "$", Encoding.UTF8.GetBytes(new string(' ', 300_000))),
        new Refusal(NotText, "$", [0x7B, 0xFF, 0xFE, 0x7D]),
        new Refusal(NotJson, "$", "{ \"id\": }"u8.ToArray()),
        new Refusal(NotJson, "$", []),
        new Refusal(NotJson, "$", "{ \"id\": \"\\ud800\" }"u8.ToArray()),
        new Refusal(NotJson, "$", Encoding.UTF8.GetBytes(new string('[', 100))),
        new Refusal(RepeatedName, "$.id", "{ \"id\": \"A\", \"id\": \"B\" }"u8.ToArray()),
    ];

    public static TheoryData<Refusal> OfShape =>
    [
        new Refusal(WrongType, "$", "[]"u8.ToArray()),
        Refusal.Of(UnknownName, "$.axles[1].ratting_kg", Tag, v => v["axles"]![1]!["ratting_kg"] = 1),
        Refusal.Of(Missing, "$.axles[1].rating_kg", Tag, v => v["axles"]![1]!.AsObject().Remove("rating_kg")),
        Refusal.Of(WrongType, "$.axles[1].rating_kg", Tag, v => v["axles"]![1]!["rating_kg"] = "11500"),
        Refusal.Of(WrongType, "$.kerb.axle_loads_kg", Tag, v => v["kerb"]!["axle_loads_kg"] = new JsonArray(5000, 5850)),
        Refusal.Of(WrongType, "$.rear.air_suspension", Tag, v => v["rear"]!["air_suspension"] = 1),
        Refusal.Of(WrongType, "$.name", Tag, v => v["name"] = null),
        Refusal.Of(OutOfRange, "$.axles[1].rating_kg", Tag, v => v["axles"]![1]!["rating_kg"] = 115000),
        Refusal.Of(OutOfRange, "$.axles[1].tyres.count", Tag, v => v["axles"]![1]!["tyres"]!["count"] = 2.5),
        Refusal.Of(OutOfRange, "$.kerb.axle_loads_kg.steer", Tag, v => v["kerb"]!["axle_loads_kg"]!["steer"] = -1),
        Refusal.Of(NotAChoice, "$.kind", Tag, v => v["kind"] = "rigit"),
        Refusal.Of(BadText, "$.id", Tag, v => v["id"] = "RT 01"),
        Refusal.Of(WrongCount, "$.sensors[0].axles", Tag, v => v["sensors"]![0]!["axles"] = new JsonArray()),
        Refusal.Of(HandbookUnclear, "$.sensors[0].handbook", Tag, v => v["sensors"]![0]!["handbook"] = new JsonObject()),
        Refusal.Of(HandbookUnclear, "$.sensors[0].handbook", Tag, v => v["sensors"]![0]!["handbook"]!["kg_per_kpa"] = 15),
        Refusal.Of(NeededForKind, "$.front_coupling", Semi, v => v.AsObject().Remove("front_coupling")),
        Refusal.Of(NeededForKind, "$.rear_coupling", Tractor, v => v.AsObject().Remove("rear_coupling")),
        Refusal.Of(NeededForKind, "$.front", Tractor, v => v.AsObject().Remove("front")),
        Refusal.Of(NeededForKind, "$.load_space", Centre, v => v.AsObject().Remove("load_space")),
        Refusal.Of(NeededForKind, "$.kerb.coupling_load_kg", Centre, v => v["kerb"]!.AsObject().Remove("coupling_load_kg")),
        Refusal.Of(NotForKind, "$.front", Semi, v => v["front"] = new JsonObject { ["axles"] = new JsonArray("trailer-1") }),
        Refusal.Of(NotForKind, "$.service", Semi, v => v["service"] = new JsonObject()),
        Refusal.Of(NotForKind, "$.front_coupling", Tractor, v => v["front_coupling"] = new JsonObject()),
        Refusal.Of(NotForKind, "$.load_space", Tractor, v => v["load_space"] = JsonNode.Parse("""{ "front_x_m": 1, "rear_x_m": 5, "permitted_kg": 1000 }""")),
    ];

    public static TheoryData<Refusal> OfWhole =>
    [
        Refusal.Of(NotUnique, "$.axles[2].key", Tag, v => v["axles"]![2]!["key"] = "drive"),
        Refusal.Of(NotUnique, "$.sensors[1].key", Tag, v => v["sensors"]![1]!["key"] = "drive"),
        Refusal.Of(NotUnique, "$.rear.name", Tag, v => v["rear"]!["name"] = "front"),
        Refusal.Of(NotUnique, "$.sensors[0].axles[1]", Tag, v => v["sensors"]![0]!["axles"] = new JsonArray("drive", "drive")),
        Refusal.Of(NotUnique, "$.fixtures[1].name", Tag, v => v["fixtures"] = new JsonArray(Crane(), Crane())),
        Refusal.Of(NotUnique, "$.modes[1].name", Tag, v => Modes(v, "normal", "normal")),
        Refusal.Of(NoSuchAxle, "$.rear.axles[0]", Tag, v => v["rear"]!["axles"]![0] = "dirve"),
        Refusal.Of(NoSuchAxle, "$.sensors[0].axles[0]", Tag, v => v["sensors"]![0]!["axles"]![0] = "dirve"),
        Refusal.Of(NoSuchAxle, "$.kerb.axle_loads_kg.dirve", Tag, v => v["kerb"]!["axle_loads_kg"]!["dirve"] = 1),
        Refusal.Of(NoSuchAxle, "$.kerb.raised[0]", Tag, v => v["kerb"]!["raised"] = new JsonArray("tga")),
        Refusal.Of(AxleOrder, "$.axles[2].x_m", Tag, v => v["axles"]![2]!["x_m"] = 4.0),
        Refusal.Of(AxleOrder, "$.axles[2].x_m", Tag, v => v["axles"]![2]!["x_m"] = 4.6000001),
        Refusal.Of(WrongOrigin, "$.axles[0].x_m", Tag, v => v["axles"]![0]!["x_m"] = 1.4),
        Refusal.Of(WrongOrigin, "$.axles[0].x_m", Semi, v => v["axles"]![0]!["x_m"] = 0),
        Refusal.Of(RoleNotForKind, "$.axles[1].role", Tag, v => v["axles"]![1]!["role"] = "trailer"),
        Refusal.Of(RoleNotForKind, "$.axles[1].role", Semi, v => v["axles"]![1]!["role"] = "drive"),
        Refusal.Of(RoleMissing, "$.axles", Tractor, v => v["axles"]![1]!["role"] = "tag"),
        Refusal.Of(RoleAtWrongPlace, "$.axles[2].role", Tag, v => v["axles"]![2]!["role"] = "pusher"),
        Refusal.Of(RoleAtWrongPlace, "$.axles[1].role", Pusher, v => v["axles"]![1]!["role"] = "tag"),
        Refusal.Of(RoleAtWrongPlace, "$.front.axles", Tractor, v => v["axles"]![0]!["role"] = "pusher"),
        Refusal.Of(InNoGroup, "$.axles[2]", Tag, v => v["rear"]!["axles"] = new JsonArray("drive")),
        Refusal.Of(InTwoGroups, "$.axles[1]", Tag, v => v["front"]!["axles"] = new JsonArray("steer", "drive")),
        Refusal.Of(GroupNotAdjacent, "$.rear.axles[1]", Tag, v => v["rear"]!["axles"] = new JsonArray("tag", "drive")),
        Refusal.Of(GroupOrder, "$.front.axles", Tag, v => (v["front"]!["axles"], v["rear"]!["axles"]) = (new JsonArray("drive", "tag"), new JsonArray("steer"))),
        Refusal.Of(NoAxleStaysDown, "$.rear.axles", Tag, v => v["axles"]![1]!["lift"] = new JsonObject()),
        Refusal.Of(Missing, "$.rear.shares_by", Tag, v => v["rear"]!.AsObject().Remove("shares_by")),
        Refusal.Of(ShareMissing, "$.modes[0].shares.tag", Tag, v => v["modes"] = JsonNode.Parse("""[{ "name": "normal", "shares": { "drive": 1 } }]""")),
        Refusal.Of(ShareOfRegulated, "$.axles[4].share", Regulated, v => v["axles"]![4]!["share"] = 1),
        Refusal.Of(ShareOfRegulated, "$.modes[0].shares.tag", Regulated, v => v["modes"] = JsonNode.Parse("""[{ "name": "normal", "shares": { "tag": 1 } }]""")),
        Refusal.Of(SharesTwice, "$.axles[2].share", Tag, v => v["modes"] = JsonNode.Parse("""[{ "name": "normal" }]""")),
        Refusal.Of(OffsetsNotZero, "$.axles", Regulated, v => v["axles"]![0]!["offset_kg"] = 200),
        Refusal.Of(OffsetsNotZero, "$.modes[0].offsets_kg", Tag, v => v["modes"] = JsonNode.Parse("""[{ "name": "normal", "offsets_kg": { "tag": 100 } }]""")),
        Refusal.Of(NormalNotFirst, "$.modes[0].name", Tag, v => Modes(v, "traction", "normal")),
        Refusal.Of(SensorAcrossGroups, "$.sensors[0].axles", Tag, v => v["sensors"]![0]!["axles"] = new JsonArray("drive", "steer")),
        Refusal.Of(SensorMixesCircuits, "$.sensors[0].axles", Regulated, v => v["sensors"]![0]!["axles"] = new JsonArray("drive-1", "drive-2", "tag")),
        Refusal.Of(KerbLoadMissing, "$.kerb.axle_loads_kg.drive", Tag, v => v["kerb"]!["axle_loads_kg"]!.AsObject().Remove("drive")),
        Refusal.Of(KerbLoadOnRaised, "$.kerb.axle_loads_kg.tag", Tag, v => v["kerb"]!["axle_loads_kg"]!["tag"] = 1500),
        Refusal.Of(KerbRaisedWithoutLift, "$.kerb.raised[0]", Semi, v => v["kerb"]!["raised"] = new JsonArray("trailer-2")),
        Refusal.Of(KerbTooLight, "$.kerb.axle_loads_kg.drive", Tag, v => v["kerb"]!["axle_loads_kg"]!["drive"] = 1200),
        Refusal.Of(KerbTooLight, "$.kerb.axle_loads_kg", Semi, v => (v["kerb"]!["axle_loads_kg"]!["trailer-1"], v["kerb"]!["coupling_load_kg"]) = (1650, -3000)),
        Refusal.Of(NotForKind, "$.kerb.coupling_load_kg", Tag, v => v["kerb"]!["coupling_load_kg"] = 100),
        Refusal.Of(NotForKind, "$.kerb.service_aboard_kg", Semi, v => v["kerb"]!["service_aboard_kg"] = 100),
        Refusal.Of(NotForKind, "$.registered.combination_kg", Semi, v => v["registered"]!["combination_kg"] = 40000),
        Refusal.Of(RegulatedAndCeiling, "$.axles[4].ceiling_kg", Regulated, v => v["axles"]![4]!["ceiling_kg"] = 6000),
        Refusal.Of(WrongOrder, "$.axles[2].lift.raise_below", Tag, v => v["axles"]![2]!["lift"]!["raise_below"] = 1.2),
        Refusal.Of(WrongOrder, "$.load_space.front_x_m", Tag, v => v["load_space"]!["front_x_m"] = 9),
        Refusal.Of(WrongOrder, "$.registered.combination_kg", Tag, v => v["registered"]!["combination_kg"] = 20000),
        Refusal.Of(WrongOrder, "$.registered.rear_group_kg", Tag, v => v["registered"]!["rear_group_kg"] = 27000),
        Refusal.Of(WrongOrder, "$.front_coupling.least_kg", Centre, v => v["front_coupling"]!["least_kg"] = 1500),
        Refusal.Of(WrongOrder, "$.rear_coupling.travel_from_m", Sliding, v => v["rear_coupling"]!["travel_from_m"] = 3.5),
        Refusal.Of(Outside, "$.rear_coupling.x_m", Sliding, v => v["rear_coupling"]!["x_m"] = 3.6),
        Refusal.Of(Outside, "$.load_space.centre_x_m", Tag, v => v["load_space"]!["centre_x_m"] = 0.1),
        Refusal.Of(TravelIncomplete, "$.rear_coupling", Sliding, v => v["rear_coupling"]!.AsObject().Remove("travel_to_m")),
        Refusal.Of(GrossBelowKerb, "$.registered.gross_kg", Tag, v => (v["registered"]!["gross_kg"], v["registered"]!["rear_group_kg"]) = (10000, 9000)),
    ];

    public static TheoryData<Refusal> Oddities =>
    [
        Refusal.Of(KerbUneven, "$.kerb.axle_loads_kg.trailer-1", Semi, v => v["kerb"]!["axle_loads_kg"]!["trailer-1"] = 2400),
        Refusal.Of(ReferenceLifts, "$.sensors[0].axles[0]", Semi, v => v["sensors"]![0]!["axles"] = new JsonArray("trailer-1", "trailer-2", "trailer-3")),
        Refusal.Of(CircuitIncomplete, "$.sensors[0].axles", Semi, v => v["sensors"]![0]!["axles"] = new JsonArray("trailer-2", "trailer-3")),
        Refusal.Of(SensedTwice, "$.sensors[1]", Tag, v => v["sensors"]![1]!["axles"] = new JsonArray("drive")),
        Refusal.Of(UnusualPressure, "$.sensors[0].handbook", Tag, v => v["sensors"]![0]!["handbook"]!["effective_area_cm2"] = 100),
        Refusal.Of(RegisteredAboveRating, "$.axles[1].registered_kg", Tag, v => v["axles"]![1]!["registered_kg"] = 12000),
        Refusal.Of(TyresBelowRating, "$.axles[1].tyres.capacity_kg", Tag, v => v["axles"]![1]!["tyres"]!["capacity_kg"] = 10000),
        Refusal.Of(ForceAboveRating, "$.axles[4].regulated_kg", Regulated, v => v["axles"]![4]!["regulated_kg"] = 7000),
        Refusal.Of(GrossAboveRatings, "$.registered.gross_kg", Tag, v => v["registered"]!["gross_kg"] = 28000),
        Refusal.Of(PayloadAboveGross, "$.load_space.permitted_kg", Tag, v => v["load_space"]!["permitted_kg"] = 18000),
        Refusal.Of(UnusualLoadSpace, "$.load_space", Tag, v => v["load_space"]!["rear_x_m"] = 17),
        Refusal.Of(UnusualSpacing, "$.axles[2].x_m", Tag, v => v["axles"]![2]!["x_m"] = 5.2),
        Refusal.Of(UnusualSpacing, "$.axles[2].x_m", Tag, v => v["axles"]![2]!["x_m"] = 8.0),
    ];

    private static JsonNode Crane() => JsonNode.Parse("""{ "name": "crane", "mass_kg": 2000, "x_m": 1.5 }""")!;

    /// <summary>Moves the share of the tag axle into modes of the names given.</summary>
    private static void Modes(JsonNode vehicle, params string[] names)
    {
        vehicle["axles"]![2]!.AsObject().Remove("share");
        vehicle["modes"] = new JsonArray([.. names.Select(n => JsonNode.Parse($$"""{ "name": "{{n}}", "shares": { "drive": 1, "tag": 0.65 } }""")!)]);
    }
}
