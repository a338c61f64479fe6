using System.Buffers;
using System.Text.Json;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Simulator.Days;

/// <summary>Writes truth as NDJSON: one record a line.</summary>
public sealed class TruthWriter(Stream stream)
{
    private readonly ArrayBufferWriter<byte> _line = new();

    /// <summary>Writes one record.</summary>
    public void Write(TruthRecord record)
    {
        ArgumentNullException.ThrowIfNull(record);
        _line.ResetWrittenCount();
        using (var json = new Utf8JsonWriter(_line))
        {
            json.WriteStartObject();
            Own(json, record);
            Common(json, record);
            json.WriteEndObject();
        }

        _line.Write("\n"u8);
        stream.Write(_line.WrittenSpan);
    }

    private static void Own(Utf8JsonWriter json, TruthRecord record)
    {
        switch (record)
        {
            case TruthRecord.Now now:
                json.WriteString("record", "now");
                json.WriteString("t", now.At.ToString());
                json.WriteNumber("speed_mps", Math.Round(now.Speed, 2));
                json.WriteBoolean("rolling", now.Rolling);
                if (now.Rolling) json.WriteNumber("slope", Math.Round(now.Motion.Slope, 5));
                if (now.Rolling) json.WriteNumber("air_mps", Math.Round(now.Motion.AirSpeed, 2));
                json.WriteNumber("lat", Math.Round(now.Latitude, 6));
                json.WriteNumber("lon", Math.Round(now.Longitude, 6));
                Faults(json, now);
                break;
            case TruthRecord.Leg leg:
                json.WriteString("record", "leg");
                json.WriteString("from", leg.From.ToString());
                json.WriteString("t", leg.At.ToString());
                json.WriteNumber("m", Math.Round(leg.Metres));
                break;
            default: throw new InvalidOperationException($"No truth is {record}.");
        }
    }

    private static void Faults(Utf8JsonWriter json, TruthRecord.Now now)
    {
        if (now.Faults.IsEmpty) return;
        json.WriteStartArray("faults");
        foreach (var fault in now.Faults)
        {
            json.WriteStartObject();
            json.WriteString("vehicle", fault.Vehicle);
            json.WriteString("kind", fault.Kind.ToString());
            if (fault.Part.Length > 0) json.WriteString("part", fault.Part);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Common(Utf8JsonWriter json, TruthRecord record)
    {
        json.WriteStartArray("vehicles");
        foreach (var vehicle in record.Vehicles) json.WriteStringValue(vehicle);
        json.WriteEndArray();
        json.WriteNumber("gross_kg", Math.Round(record.GrossKilograms, 1));
        json.WriteStartArray("payloads");
        foreach (var aboard in record.Payloads)
        {
            json.WriteStartObject();
            json.WriteString("vehicle", aboard.Vehicle);
            json.WriteNumber("kg", Math.Round(aboard.Kilograms, 1));
            json.WriteNumber("x_m", Math.Round(aboard.Centre, 3));
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteStartArray("axles");
        foreach (var axle in record.Axles) Axle(json, axle);
        json.WriteEndArray();
    }

    private static void Axle(Utf8JsonWriter json, AxleTruth axle)
    {
        json.WriteStartObject();
        json.WriteString("vehicle", axle.Vehicle);
        json.WriteString("axle", axle.Axle);
        json.WriteString("state", axle.State switch
        {
            AxleState.Loaded => "loaded",
            AxleState.Unloaded => "unloaded",
            AxleState.Raised => "raised",
            _ => throw new InvalidOperationException($"No axle is {axle.State}."),
        });
        json.WriteNumber("kg", Math.Round(axle.Kilograms, 1));
        json.WriteEndObject();
    }
}
