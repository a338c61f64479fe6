using System.Collections.Immutable;
using System.Text.Json;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Sharding;

namespace AxleTelemetry.Service.Watching;

/// <summary>Loads as they stand at the end of a watch, for programs.</summary>
internal static class JsonLoads
{
    public static void Write(Utf8JsonWriter json, ImmutableArray<VehicleState> units)
    {
        json.WriteStartArray("loads");
        foreach (var unit in units)
        {
            json.WriteStartObject();
            json.WriteString("fleet", unit.Name.Fleet);
            json.WriteString("vehicle", unit.Name.Id);
            if (unit.StoppedBy is { } why) json.WriteString("stopped_by", why);
            if (unit.View is { } view) Write(json, view);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    /// <summary>An axle by the names that its vehicle file and its messages use.</summary>
    public static void WriteName(Utf8JsonWriter json, AxlePart axle, Combination combination)
    {
        json.WriteString("axle", axle.Axle.Key);
        json.WriteString("axle_of", combination.Vehicles[axle.Body].Id);
    }

    private static void Write(Utf8JsonWriter json, LaneView view)
    {
        json.WriteString("at", view.At.ToString());
        json.WriteString("standing", JsonNamingPolicy.SnakeCaseLower.ConvertName(view.Standing.ToString()));
        if (view.Gross is { } gross) Write(json, "gross", gross.Load);
        json.WriteStartArray("axles");
        foreach (var axle in view.Axles)
        {
            json.WriteStartObject();
            WriteName(json, axle.Part, view.Combination);
            json.WriteString("state", JsonNamingPolicy.SnakeCaseLower.ConvertName(axle.State.ToString()));
            if (axle.Load is { } load) Write(json, "load", load.Load);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Write(Utf8JsonWriter json, string name, Estimated load)
    {
        json.WriteNumber($"{name}_kg", Math.Round(load.Mean, 1));
        json.WriteNumber($"{name}_half_width95_kg", Math.Round(load.HalfWidth, 1));
    }
}
