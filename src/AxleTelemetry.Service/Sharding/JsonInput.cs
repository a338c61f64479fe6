using System.Text.Json;
using System.Text.Json.Serialization;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Sharding;

/// <summary>An input that came from no device, as it stands in the log: JSON, so that whoever audits it can read it.</summary>
internal static class JsonInput
{
    private static readonly JsonSerializerOptions Plain = new() { PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower, DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull };

    /// <summary>The row in the log.</summary>
    public static InputRow Row<T>(VehicleName vehicle, RowKind kind, Moment now, T written) => new()
    {
        Vehicle = Codes.Of(vehicle),
        Kind = kind,
        Received = now,
        Samples = SampleSpan.At(now),
        Bytes = [.. JsonSerializer.SerializeToUtf8Bytes(written, Plain)],
    };
}
