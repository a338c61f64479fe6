using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Simulator.Tests.Journeys;

/// <summary>The recording that is shipped. UPDATE_SCENARIOS=1 in the environment writes it anew.</summary>
public sealed class RecordedJourneyTests
{
    private static readonly string Shipped = Path.Combine(Repository.Root, "deploy", "examples", "journey.ndjson");

    [Fact]
    public void The_shipped_recording_is_what_the_journey_gives()
    {
        var made = Made(Journey.Named("recorded-journey"));
        Assert.InRange(made.Length, 100_000, 1_000_000);
        if (Environment.GetEnvironmentVariable("UPDATE_SCENARIOS") == "1") File.WriteAllBytes(Shipped, made);
        // Bytes would be printed one by one: that they differ is enough to know.
        else Assert.True(made.AsSpan().SequenceEqual(File.ReadAllBytes(Shipped)), "deploy/examples/journey.ndjson is not what the generator makes.");
    }

    [Theory]
    [InlineData("recorded-journey")]
    [InlineData("semi-first-axle-raised-under-load")]
    [InlineData("ride-height-not-normal")]
    [InlineData("ferry-with-wheel-speed")]
    [InlineData("light-load-in-the-cold")]
    [InlineData("unit-off-while-loading")]
    public void Messages_say_what_the_readings_say(string name)
    {
        var script = Journey.Named(name);
        var direct = JourneyReadings.Of(script, JourneyPlayer.Play(script)).ToHashSet();
        var decoded = Decoded(script).ToList();
        Assert.Equal(decoded.Count, decoded.ToHashSet().Count);
        Assert.Empty(decoded.ToHashSet().Except(direct).Take(5));
        // A trailer that has nothing to say of itself sends no condition.
        Assert.Empty(direct.Except(decoded).Where(r => r.Body == 0 || r.Reading.Kind != ReadingKind.Condition).Take(5));
    }

    private static byte[] Made(JourneyScript script)
    {
        using var stream = new MemoryStream();
        var writer = new RecordingWriter(stream);
        foreach (var message in JourneyRecording.Of(script, JourneyPlayer.Play(script), "example")) writer.Write(message);
        return stream.ToArray();
    }

    private static IEnumerable<(int Body, Reading Reading)> Decoded(JourneyScript script)
    {
        foreach (var entry in new RecordingReader(new MemoryStream(Made(script))).Entries())
        {
            var message = Assert.IsType<RecordingEntry.Read>(entry).Message;
            var topic = Assert.IsType<TopicResult.Named>(Topic.Parse(message.Topic)).Topic;
            var body = script.Combination.Bodies.Single(b => b.Vehicle.Id == topic.Vehicle);
            var keys = new KeyTable(body.Vehicle.Sensors.Select(s => s.Key), body.Vehicle.Axles.Select(a => a.Key), body.Vehicle.Modes.Select(m => m.Name));
            var into = new DecodedMessage();
            PayloadDecoder.Decode(message.Payload.Span, new Envelope(topic, keys, message.Received!.Value, TimeSpan.Zero), into);
            Assert.Equal(0, into.Refusals.Total);
            foreach (var reading in into.Readings.ToArray()) yield return (body.Index, reading);
        }
    }
}
