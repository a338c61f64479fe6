using System.Text;
using System.Text.Json;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Messages.Tests.Payloads;

public class FuzzTests
{
    private const int Rounds = 300_000;

    private static readonly (UpStream Stream, byte[] Payload, int Readings)[] Good =
    [
        .. new (UpStream, string, int)[]
        {
            (UpStream.Pressure, """{"seq":1042,"samples":[{"t":"2026-03-02T06:14:05.000Z","kpa":{"drive":412.5,"tag":398.1}},{"t":1772432045000,"kpa":{"steer":0}}]}""", 3),
            (UpStream.Lift, """{"seq":17,"boot":"5f2c","samples":[{"t":"2026-03-02T06:14:05.200Z","axles":{"tag":"raised","drive":"loaded"},"by":"driver","reason":"grip"}]}""", 2),
            (UpStream.Condition, """{"samples":[{"t":"2026-03-02T06:14:05Z","ride":"normal","mode":"traction","pto":false,"wheel_speed_mps":22.3}]}""", 4),
            (UpStream.Position, """{"vehicle":"T-01","samples":[{"t":1772432045000,"lat":46.0569,"lon":14.5058,"speed_mps":22.1}]}""", 3),
            (UpStream.Frame, """{"seq":5,"samples":[{"t":1772432045000,"kpa":{"drive":1},"axles":{"tag":"loaded"},"lat":46,"lon":14,"pto":true}]}""", 5),
            (UpStream.Coupling, """{"seq":3,"samples":[{"t":"2026-03-02T06:14:05Z","trailers":["TR-07","TR-08"]}]}""", 0),
            (UpStream.Presence, """{"online":true,"t":"2026-03-02T06:14:05Z","boot":"5f2c"}""", 0),
        }.Select(good => (good.Item1, Encoding.UTF8.GetBytes(good.Item2), good.Item3)),
    ];

    [Fact]
    public void No_payload_makes_the_decoder_throw_and_good_ones_between_all_decode()
    {
        const int Seed = 20260302;
        var random = new Random(Seed);
        var message = new DecodedMessage();
        var reasons = new HashSet<RefusalReason>();
        for (var round = 0; round < Rounds; round++)
        {
            var (stream, payload, readings) = Good[random.Next(Good.Length)];
            var spoiled = Mutation.Of(payload, random);
            try
            {
                PayloadDecoder.Decode(spoiled, Decoded.Envelope(stream), message);
                CheckSound(message);
                if (message.RefusedWhole is null) Assert.True(IsJson(spoiled));
                foreach (var refusal in message.Refusals.Details) reasons.Add(refusal.Reason);
                PayloadDecoder.Decode(payload, Decoded.Envelope(stream), message);
                Assert.Equal((0, readings), (message.Refusals.Total, message.Readings.Length));
            }
            catch (Exception problem)
            {
                throw new InvalidOperationException($"Seed {Seed}, round {round}, {stream}: {Encoding.UTF8.GetString(spoiled)}", problem);
            }
        }

        // The spoiling would be worth little if it met few of the rules.
        Assert.True(reasons.Count >= 14, string.Join(", ", reasons));
    }

    [Fact]
    public void No_topic_makes_the_parser_throw()
    {
        var random = new Random(7);
        string[] parts = ["axles", "v1", "v2", "f", "T-01", "pressure", "advice", "", "+", "#", "$share", "\uD800", "\0", "\u00e9", new string('x', 65), "presence"];
        for (var round = 0; round < 50_000; round++)
        {
            var tail = string.Join('/', Enumerable.Range(0, random.Next(1, 6)).Select(_ => parts[random.Next(parts.Length)]));
            var topic = random.Next(3) == 0 ? tail : Topic.Root + tail;
            if (Topic.Parse(topic) is TopicResult.Named named) Assert.Equal(topic, named.Topic.ToString());
        }
    }

    [Fact]
    public void No_line_makes_the_recording_reader_throw_and_good_ones_between_are_all_read()
    {
        var random = new Random(11);
        var payload = """{"samples":[{"t":5,"axles":{"tag":"raised"}}]}"""u8.ToArray();
        byte[] good = [.. """{"topic":"axles/v1/f/v/lift","received":5,"payload":"""u8, .. payload, .. "}"u8];
        var stream = new MemoryStream();
        for (var round = 0; round < 20_000; round++)
        {
            stream.Write(Mutation.Of(good, random));
            stream.Write("\n"u8);
            stream.Write(good);
            stream.Write("\n"u8);
        }

        stream.Position = 0;
        var whole = new RecordingReader(stream).Entries().OfType<RecordingEntry.Read>().Count(entry => entry.Message.Payload.Span.SequenceEqual(payload));
        Assert.True(whole >= 20_000, $"{whole}");
    }

    private static void CheckSound(DecodedMessage message)
    {
        if (message.RefusedWhole is not null) Assert.Equal(0, message.Readings.Length + message.Couplings.Length + message.Samples);
        Assert.True(message.Refusals.Total >= message.Refusals.Details.Length);
        var latest = Decoded.At.Plus(3600 + 120);
        foreach (var reading in message.Readings)
        {
            var names = reading.Kind switch
            {
                ReadingKind.Pressure => Decoded.Keys.Sensors.Length,
                ReadingKind.Lift => Decoded.Keys.Axles.Length,
                ReadingKind.Condition => Enum.GetValues<ConditionKey>().Length,
                _ => Enum.GetValues<PositionKey>().Length,
            };
            if (reading.Kind == ReadingKind.Lift) Assert.True(LiftWord.Of(reading.Value) is var word && Enum.IsDefined(word.Report) && Enum.IsDefined(word.By) && Enum.IsDefined(word.Reason));
            Assert.True(double.IsFinite(reading.Value) && reading.Key < names && reading.At <= latest && reading.At.UnixMilliseconds >= 0);
        }
    }

    private static bool IsJson(byte[] payload)
    {
        try
        {
            using var document = JsonDocument.Parse(payload);
            return true;
        }
        catch (JsonException)
        {
            return false;
        }
    }
}
