using System.Buffers;
using System.Text.Json;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Simulator.Journeys;

/// <summary>Writes one sample of a message as JSON.</summary>
internal static class FrameSample
{
    private static readonly string[] Reasons = ["none", "grip", "clearance", "workshop", "other"];

    private static readonly string[] Lifts = ["loaded", "unloaded", "raised", "moving", "unknown", "lowered"];

    public static byte[] Of(JourneyScript script, BodyPart body, JourneyMoment moment, Dictionary<int, LiftReport> said) => Object(json =>
    {
        json.WriteNumber("t", moment.At.UnixMilliseconds);
        Pressures(json, script, body, moment);
        Axles(json, body, moment, said);
        if (body.Index > 0) return;
        if (moment.Reports[0].WheelSpeed is { } wheels) json.WriteNumber("wheel_speed_mps", wheels);
        Position(json, moment.Position);
    });

    public static byte[] Condition(BodyPart body, Moment at, SelfReport? before, SelfReport now) => Object(json =>
    {
        json.WriteNumber("t", at.UnixMilliseconds);
        News(json, body, before, now);
    });

    /// <summary>What a vehicle says of itself, where it differs from what it said before.</summary>
    public static void News(Utf8JsonWriter json, BodyPart body, SelfReport? before, SelfReport now)
    {
        if (before?.RideOff != now.RideOff) json.WriteString("ride", now.RideOff ? "lowered" : "normal");
        if (before?.Mode != now.Mode) json.WriteString("mode", body.Vehicle.Modes[now.Mode].Name);
        if (before?.ServiceBrake != now.ServiceBrake) json.WriteBoolean("service_brake", now.ServiceBrake);
        if (before?.ParkingBrake != now.ParkingBrake) json.WriteBoolean("parking_brake", now.ParkingBrake);
        if (before?.PowerTakeOff != now.PowerTakeOff) json.WriteBoolean("pto", now.PowerTakeOff);
        if (now.Ambient is { } ambient && before?.Ambient != ambient) json.WriteNumber("ambient_c", ambient);
    }

    public static void Position(Utf8JsonWriter json, PositionReport position)
    {
        json.WriteNumber("lat", position.Latitude);
        json.WriteNumber("lon", position.Longitude);
        json.WriteNumber("alt_m", position.Altitude);
        json.WriteNumber("heading_deg", position.Heading);
        json.WriteNumber("speed_mps", position.Speed);
    }

    public static byte[] Object(Action<Utf8JsonWriter> write)
    {
        var buffer = new ArrayBufferWriter<byte>();
        using (var json = new Utf8JsonWriter(buffer))
        {
            json.WriteStartObject();
            write(json);
            json.WriteEndObject();
        }

        return buffer.WrittenSpan.ToArray();
    }

    public static void Pressures(Utf8JsonWriter json, JourneyScript script, BodyPart body, JourneyMoment moment)
    {
        var parts = script.Combination.Sensors.Where(s => s.Body == body.Index && moment.Pressures[s.Index] is not null).ToList();
        if (parts.Count == 0) return;
        json.WriteStartObject("kpa");
        foreach (var part in parts) json.WriteNumber(part.Sensor.Key, moment.Pressures[part.Index]!.Value);
        json.WriteEndObject();
    }

    public static void Axles(Utf8JsonWriter json, BodyPart body, JourneyMoment moment, Dictionary<int, LiftReport> said)
    {
        var news = Enumerable.Range(body.FirstAxle, body.Vehicle.Axles.Length)
            .Where(a => moment.Lifts[a] is { } lift && (!said.TryGetValue(a, out var before) || before != lift)).ToList();
        if (news.Count == 0) return;
        json.WriteStartObject("axles");
        foreach (var axle in news)
        {
            said[axle] = moment.Lifts[axle]!.Value;
            json.WriteString(body.Vehicle.Axles[axle - body.FirstAxle].Key, Lifts[(int)said[axle]]);
        }

        json.WriteEndObject();
        if (news.Select(a => moment.Reasons[a]).FirstOrDefault(r => r != LiftReason.Unsaid) is not LiftReason.Unsaid and var reason)
        {
            json.WriteString("by", "driver");
            json.WriteString("reason", Reasons[(int)reason - 1]);
        }
    }
}
