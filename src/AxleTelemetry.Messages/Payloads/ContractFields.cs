using System.Collections.Immutable;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Messages.Payloads;

/// <summary>
/// The fields of every stream: the table that the codec itself reads by, and that the contract document is held against.
/// Ranges of pressure, latitude, longitude and speed are the contract's; the others bound what can be meant on a road.
/// </summary>
public static class ContractFields
{
    private static readonly ImmutableArray<ContractField> Header =
    [
        new("seq", FieldLevel.Message, FieldKind.Sequence),
        new("boot", FieldLevel.Message, FieldKind.Boot),
        new("vehicle", FieldLevel.Message, FieldKind.Vehicle),
    ];

    private static readonly ImmutableArray<ContractField> Batch =
    [
        .. Header,
        new("samples", FieldLevel.Message, FieldKind.Samples),
        new("t", FieldLevel.Sample, FieldKind.Time),
        new("vehicle", FieldLevel.Sample, FieldKind.Vehicle),
    ];

    private static readonly ImmutableArray<ContractField> Pressure =
        [new("kpa", FieldLevel.Sample, FieldKind.Pressures) { Least = -5, Greatest = 1600, Unit = "kPa" }];

    private static readonly ImmutableArray<ContractField> Lift =
    [
        new("axles", FieldLevel.Sample, FieldKind.Lifts),
        new("by", FieldLevel.Sample, FieldKind.LiftBy),
        new("reason", FieldLevel.Sample, FieldKind.LiftReason),
    ];

    private static readonly ImmutableArray<ContractField> Condition =
    [
        new("ride", FieldLevel.Sample, FieldKind.Ride) { Key = (ushort)ConditionKey.RideHeight },
        new("mode", FieldLevel.Sample, FieldKind.Mode) { Key = (ushort)ConditionKey.SuspensionMode },
        Flag("service_brake", ConditionKey.ServiceBrake),
        Flag("parking_brake", ConditionKey.ParkingBrake),
        Flag("pto", ConditionKey.PowerTakeOff),
        Flag("ignition", ConditionKey.Ignition),
        Flag("body_in_use", ConditionKey.BodyInUse),
        Of("wheel_speed_mps", ConditionKey.WheelSpeed) with { Least = 0, Greatest = 60, Unit = "m/s" },
        Of("fuel_l", ConditionKey.Fuel) with { Least = 0, Greatest = 5000, Unit = "l" },
        Of("ambient_c", ConditionKey.Ambient) with { Least = -90, Greatest = 90, Unit = "degrees Celsius" },
    ];

    private static readonly ImmutableArray<ContractField> Position =
    [
        Of("lat", PositionKey.Latitude) with { Least = -90, Greatest = 90, Unit = "degrees" },
        Of("lon", PositionKey.Longitude) with { Least = -180, Greatest = 180, Unit = "degrees" },
        Of("alt_m", PositionKey.Altitude) with { Least = -1000, Greatest = 10000, Unit = "m" },
        Of("speed_mps", PositionKey.Speed) with { Least = 0, Greatest = 60, Unit = "m/s" },
        Of("heading_deg", PositionKey.Heading) with { Least = 0, Greatest = 360, Unit = "degrees" },
        Of("accuracy_m", PositionKey.Accuracy) with { Least = 0, Greatest = 100000, Unit = "m" },
    ];

    private static readonly ImmutableArray<StreamFields> Streams =
    [
        new([.. Batch, .. Pressure]),
        new([.. Batch, .. Lift]),
        new([.. Batch, .. Condition]),
        new([.. Batch, .. Position]),
        new([.. Batch, .. Pressure, .. Lift, .. Condition, .. Position]),
        new([.. Batch, new("trailers", FieldLevel.Sample, FieldKind.Trailers)]),
        new([.. Header, new("online", FieldLevel.Message, FieldKind.Online), new("t", FieldLevel.Message, FieldKind.Time)]),
    ];

    /// <summary>Every field that a stream's codec knows.</summary>
    public static ImmutableArray<ContractField> Of(UpStream stream) => Streams[(int)stream].All;

    internal static StreamFields Table(UpStream stream) => Streams[(int)stream];

    private static ContractField Flag(string name, ConditionKey key) =>
        new(name, FieldLevel.Sample, FieldKind.Flag) { Key = (ushort)key };

    private static ContractField Of(string name, ConditionKey key) =>
        new(name, FieldLevel.Sample, FieldKind.ConditionNumber) { Key = (ushort)key };

    private static ContractField Of(string name, PositionKey key) =>
        new(name, FieldLevel.Sample, FieldKind.PositionNumber) { Key = (ushort)key };
}
