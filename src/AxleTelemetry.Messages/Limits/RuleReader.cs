using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Messages.Limits;

/// <summary>Reads one rule. Where a part is wrong the error is noted and the rule goes on with a stand-in; such a table is refused as a whole.</summary>
internal static class RuleReader
{
    private enum Subject { Axle, Group, Vehicle, Combination, DrivingShare, Bridge }

    private static readonly Dictionary<string, Subject> Subjects = new()
    {
        ["axle"] = Subject.Axle,
        ["group"] = Subject.Group,
        ["vehicle"] = Subject.Vehicle,
        ["combination"] = Subject.Combination,
        ["driving-share"] = Subject.DrivingShare,
        ["bridge"] = Subject.Bridge,
    };

    private static readonly Dictionary<string, VehicleClass> Classes = new()
    {
        ["motor"] = VehicleClass.Motor,
        ["trailer"] = VehicleClass.Trailer,
        ["semi-trailer"] = VehicleClass.SemiTrailer,
        ["any-trailer"] = VehicleClass.AnyTrailer,
    };

    private static readonly Dictionary<string, CombinationShape> Shapes = new()
    {
        ["road-train"] = CombinationShape.RoadTrain,
        ["articulated"] = CombinationShape.Articulated,
    };

    public static LimitRule? Read(JsonPlace place)
    {
        // Without its subject nobody can say which keys belong to the rule, so nothing else of it is judged.
        if (place.Word("limits", Subjects) is not { } subject) return null;
        var clause = place.Text("clause");
        var status = LimitSetParser.Status(place, required: false);
        var note = place.Text("note", required: false);
        var trips = place.Word("trips", LimitSetParser.Scopes, required: false) ?? TripScope.All;
        LimitRule rule = subject switch
        {
            Subject.Axle => Axle(place, clause),
            Subject.Group => Group(place, clause),
            Subject.Vehicle => Vehicle(place, clause),
            Subject.Combination => Combination(place, clause),
            Subject.DrivingShare => Share(place, clause),
            Subject.Bridge => Bridge(place, clause),
            _ => throw new InvalidOperationException($"Unknown subject {subject}."),
        };
        place.Close();
        return rule with { Status = status, Note = note, Trips = trips };
    }

    private static AxleRule Axle(JsonPlace place, string clause) => new()
    {
        Clause = clause,
        Driving = place.Flag("driving", required: true),
        SingleOnly = place.Flag("single_only"),
        Fitted = ConditionReader.Fitting(place),
        Effect = EffectReader.Read(place),
    };

    private static GroupRule Group(JsonPlace place, string clause) => new()
    {
        Clause = clause,
        Vehicle = place.Word("vehicle", Classes) ?? default,
        Axles = place.Whole("axles", 2, Configuration.MostAxles) ?? 2,
        Spacing = ConditionReader.Spacing(place, "spacing_m"),
        Fitted = ConditionReader.Fitting(place),
        Effect = EffectReader.Read(place),
    };

    private static VehicleRule Vehicle(JsonPlace place, string clause) => new()
    {
        Clause = clause,
        Vehicle = place.Word("vehicle", Classes) ?? default,
        Axles = ConditionReader.Count(place, "axles"),
        SteeredAxles = place.Whole("steered_axles", 0, Configuration.MostAxles, required: false),
        Fitted = ConditionReader.Fitting(place),
        Effect = EffectReader.Read(place, perMetre: true),
    };

    private static CombinationRule Combination(JsonPlace place, string clause) => new()
    {
        Clause = clause,
        Shape = place.Word("shape", Shapes) ?? default,
        MotorAxles = ConditionReader.Count(place, "motor_axles"),
        TrailerAxles = ConditionReader.Count(place, "trailer_axles"),
        TrailerSpacing = ConditionReader.Spacing(place, "trailer_spacing_m"),
        Intermodal = place.Flag("intermodal"),
        Fitted = ConditionReader.Fitting(place),
        Effect = EffectReader.Read(place),
    };

    private static BridgeRule Bridge(JsonPlace place, string clause) => new()
    {
        Clause = clause,
        Formula = new BridgeFormula(
            place.Number("lb_per_ft", 1, 10_000) ?? 0, place.Number("lb_per_axle", 0, 100_000) ?? 0, place.Number("lb", 0, 1_000_000) ?? 0,
            place.Number("round_to_lb", 0, 10_000, required: false) ?? 0),
    };

    private static DrivingShareRule Share(JsonPlace place, string clause)
    {
        var least = place.Number("least", 0, 1);
        if (least is 0 or 1) place.Wrong("least", "a share above 0 and below 1, for example 0.25");
        return new DrivingShareRule { Clause = clause, Least = least ?? 0 };
    }
}
