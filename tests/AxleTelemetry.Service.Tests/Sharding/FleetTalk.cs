using System.Text;
using System.Text.Json.Nodes;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.VehicleFiles;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>
/// What a small fleet says on a morning, as messages: a rigid by itself, two tractors that change trailers now and then. And
/// what may happen to messages on their way without changing what they say.
/// </summary>
internal static class FleetTalk
{
    private const string Fleet = "demo";

    public static FleetConfiguration Configuration { get; } =
        Assert.IsType<ServiceResult.Loaded>(ServiceReading.Read(ExampleFiles.Of("service/axletelemetry.json"))).Configuration.Fleets;

    /// <summary>A recording in the order received.</summary>
    public static List<RecordedMessage> Draw(ulong seed)
    {
        var random = new SeededRandom(seed);
        List<RecordedMessage> all = [];
        foreach (var journey in (string[][])[["tractor-4x2", "semi-tridem-lift-first"], ["tractor-6x2-pusher", "semi-bare"], ["rigid-6x2-tag"]])
            all.AddRange(Journey(journey, random));
        for (var changes = random.Whole(0, 4); changes > 0; changes--) all.Add(Coupling(all, random));
        return [.. all.OrderBy(m => m.Received)];
    }

    /// <summary>The same messages in any order, some of them twice, some cut into others; received when all was said.</summary>
    public static List<RecordedMessage> Disturbed(List<RecordedMessage> messages, SeededRandom random)
    {
        var end = messages.Max(m => m.Received)!.Value;
        List<RecordedMessage> disturbed = [];
        foreach (var message in messages)
        {
            if (random.Chance(0.2)) disturbed.AddRange(Cut(message, random));
            else disturbed.Add(message);
            if (random.Chance(0.1)) disturbed.Add(message);
            if (random.Chance(0.05)) disturbed.AddRange(Cut(message, random));
        }

        return [.. disturbed.OrderBy(_ => random.Next()).Select((m, i) => m with { Received = end.Plus(i * 0.05) })];
    }

    /// <summary>Messages held back for a while by a vehicle without coverage, then sent at once, oldest or newest first.</summary>
    public static List<RecordedMessage> Delayed(List<RecordedMessage> messages, SeededRandom random)
    {
        var (first, last) = (messages[0].Received!.Value, messages[^1].Received!.Value);
        var gone = first.Plus(random.Between(0.1, 0.6) * last.SecondsSince(first));
        var back = gone.Plus(random.Between(60, 1500));
        var vehicle = random.Pick([.. messages.Select(m => m.Topic.Split('/')[3]).Distinct()]);
        bool IsHeld(RecordedMessage m) => m.Topic.Contains($"/{vehicle}/", StringComparison.Ordinal) && m.Received >= gone && m.Received < back;
        var held = messages.Where(IsHeld).ToList();
        if (random.Chance(0.5)) held.Reverse();
        return [.. messages.Where(m => !IsHeld(m)).Concat(held.Select((m, i) => m with { Received = back.Plus(0.02 * i) })).OrderBy(m => m.Received)];
    }

    private static IEnumerable<RecordedMessage> Journey(string[] vehicles, SeededRandom random)
    {
        var text = FormattableString.Invariant($"""
            {string.Join('\n', vehicles.Select(v => "vehicle " + v))}
            trip national
            seed {random.Whole(1, 1000)}

            journey
            load {random.Between(8, vehicles.Length == 1 ? 17 : 29):0.0} t at {(vehicles.Length == 1 ? 4.3 : 6.0):0.0} m in 5 min
            drive 8 km at {random.Whole(50, 85)} km/h
            stop {random.Whole(1, 12)} min
            drive 6 km at {random.Whole(50, 85)} km/h
            {(vehicles[0] == "rigid-6x2-tag" ? "lift tag raised" : vehicles[0] == "tractor-4x2" ? "lift trailer-1 raised" : "stop 1 min")}
            drive 7 km at 70 km/h
            stop 2 min

            findings
            """);
        var script = Assert.IsType<JourneyResult.Accepted>(JourneyText.Read(text, Described)).Script;
        return JourneyRecording.Of(script, JourneyPlayer.Play(script), Fleet);
    }

    private static Domain.Vehicles.VehicleDescription? Described(string name) =>
        Assert.IsType<VehicleFileResult.Accepted>(VehicleFile.Parse(File.ReadAllBytes(ExampleFiles.Of(name + ".json")))).Vehicle;

    private static RecordedMessage Coupling(List<RecordedMessage> all, SeededRandom random)
    {
        var by = random.Pick("TR-04", "TP-05");
        var at = all[random.Whole(0, all.Count - 1)].Received!.Value;
        var trailers = random.Pick("\"ST-06\"", "\"SB-07\"", "");
        return new RecordedMessage($"axles/v1/{Fleet}/{by}/coupling", Encoding.UTF8.GetBytes(FormattableString.Invariant($$"""{"samples":[{"t":{{at.UnixMilliseconds - 400}},"trailers":[{{trailers}}]}]}""")), at);
    }

    private static IEnumerable<RecordedMessage> Cut(RecordedMessage message, SeededRandom random)
    {
        var samples = JsonNode.Parse(message.Payload.Span)!["samples"]!.AsArray();
        for (var from = 0; from < samples.Count;)
        {
            var length = Math.Min(random.Whole(1, 8), samples.Count - from);
            var part = new JsonArray([.. samples.Skip(from).Take(length).Select(s => s!.DeepClone())]);
            yield return message with { Payload = Encoding.UTF8.GetBytes(new JsonObject { ["samples"] = part }.ToJsonString()) };
            from += length;
        }
    }
}
