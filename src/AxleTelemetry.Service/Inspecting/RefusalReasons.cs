using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Inspecting;

/// <summary>Reasons of refusals as the journal numbers them, for programs and for people.</summary>
internal static class RefusalReasons
{
    private const string UnknownVehicle = "unknown_vehicle";

    /// <summary>Every code.</summary>
    public static IReadOnlyList<string> All { get; } = [.. Enum.GetValues<RefusalReason>().Select(JsonText.Word), UnknownVehicle];

    public static string Code(RowKind kind) => kind == Codes.UnknownVehicleRefusal ? UnknownVehicle
        : Enum.IsDefined((RefusalReason)kind.Code) ? JsonText.Word((RefusalReason)kind.Code) : "other";

    public static string Words(RowKind kind) => kind == Codes.UnknownVehicleRefusal ? "vehicle not described"
        : Enum.IsDefined((RefusalReason)kind.Code) ? RefusalWords.Of((RefusalReason)kind.Code) : "a reason of another release";
}
