using System.Text;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Refusals;
using CsCheck;

namespace AxleTelemetry.Messages.Tests.Recordings;

public class RecordingTests
{
    [Fact]
    public void A_recording_is_lines_that_a_person_can_read() => Assert.Equal(
        """
        {"topic":"axles/v1/f/v/pressure","received":"2026-03-02T06:14:06.000Z","payload":{ "samples":[] }}
        {"topic":"axles/v1/f/v/pressure","payload_base64":"/w=="}

        """,
        Encoding.UTF8.GetString(Written(
            new RecordedMessage("axles/v1/f/v/pressure", """{ "samples":[] }"""u8.ToArray(), new Moment(1772432046000)),
            new RecordedMessage("axles/v1/f/v/pressure", new byte[] { 0xFF }))));

    [Fact]
    public void What_was_written_is_read_back_byte_for_byte() =>
        Gen.Select(Payload, Gen.String, Gen.Long[0, 253_402_300_799_999].Nullable()).Array[0, 8].Sample(rows =>
        {
            // Text that MQTT cannot carry (half characters) is no topic.
            var messages = rows.Select(row => new RecordedMessage(
                Encoding.UTF8.GetString(Encoding.UTF8.GetBytes(row.Item2)), row.Item1, row.Item3 is { } at ? new Moment(at) : null)).ToArray();
            var read = Read(Written(messages)).Cast<RecordingEntry.Read>().ToArray();
            Assert.Equal(messages.Length, read.Length);
            foreach (var (message, entry) in messages.Zip(read))
            {
                Assert.Equal((message.Topic, message.Received), (entry.Message.Topic, entry.Message.Received));
                Assert.Equal(message.Payload.ToArray(), entry.Message.Payload.ToArray());
            }
        }, iter: 2000);

    [Theory]
    [InlineData("nonsense", RefusalReason.NotJson)]
    [InlineData("""{"topic":"t","payload":{}""", RefusalReason.NotJson)]
    [InlineData("""{"topic":"t","payload":{}} x""", RefusalReason.NotJson)]
    [InlineData("[]", RefusalReason.WrongType)]
    [InlineData("""{"topic":7,"payload":{}}""", RefusalReason.WrongType)]
    [InlineData("""{"payload":{}}""", RefusalReason.MissingField)]
    [InlineData("""{"topic":"t"}""", RefusalReason.MissingField)]
    [InlineData("""{"topic":"t","payload":{},"payload_base64":""}""", RefusalReason.Contradiction)]
    [InlineData("""{"topic":"t","topic":"t","payload":{}}""", RefusalReason.Contradiction)]
    [InlineData("""{"topic":"t","payload_base64":"*"}""", RefusalReason.BadBase64)]
    [InlineData("""{"topic":"t","payload_base64":{}}""", RefusalReason.BadBase64)]
    [InlineData("""{"topic":"t","payload_base64":"\ud800"}""", RefusalReason.BadBase64)]
    [InlineData("""{"topic":"t","\ud800":{}}""", RefusalReason.MissingField)]
    [InlineData("""{"topic":"t","payload":{},"received":"noon"}""", RefusalReason.BadTime)]
    [InlineData("""{"topic":"\ud800","payload":{}}""", RefusalReason.BadTopic)]
    public void A_bad_line_is_named_and_never_stops_the_rest(string line, RefusalReason reason)
    {
        const string Good = """{"topic":"t","payload":1}""";
        var entries = Read(Encoding.UTF8.GetBytes($"{Good}\n\n{line}\r\n{Good}"));
        Assert.Equal([1L, 3L, 4L], entries.Select(entry => entry.Line));
        Assert.IsType<RecordingEntry.Read>(entries[0]);
        Assert.Equal(reason, Assert.IsType<RecordingEntry.Unreadable>(entries[1]).Refusal.Reason);
        Assert.StartsWith($"line 3: {RefusalWords.Of(reason)}", entries[1].ToString());
        Assert.IsType<RecordingEntry.Read>(entries[2]);
    }

    [Fact]
    public void Bytes_that_are_no_UTF8_are_a_bad_line() => Assert.Equal(
        RefusalReason.NotUtf8,
        Assert.IsType<RecordingEntry.Unreadable>(Assert.Single(Read([0xC3, 0x28]))).Refusal.Reason);

    [Fact]
    public void A_payload_keeps_its_bytes()
    {
        var entry = Assert.Single(Read(Encoding.UTF8.GetBytes("\uFEFF" + """{"x":[1], "payload" : {"a" : [1.50, "\u0041"] } , "topic":"t","received":5}""" + "\r\n")));
        var message = Assert.IsType<RecordingEntry.Read>(entry).Message;
        Assert.Equal("""{"a" : [1.50, "\u0041"] }""", Encoding.UTF8.GetString(message.Payload.Span));
        Assert.Equal(new Moment(5), message.Received);
    }

    [Theory]
    [InlineData(0, 1)]
    [InlineData(RecordingReader.MaxLineBytes, 3)]
    [InlineData(RecordingReader.MaxLineBytes * 3, 1000)]
    [InlineData(RecordingReader.MaxLineBytes * 2, 100_000)]
    public void A_line_too_long_is_skipped_to_its_end(int over, int chunk)
    {
        const string Good = """{"topic":"t","payload":1}""";
        var text = $"{Good}\n{new string('x', RecordingReader.MaxLineBytes + 1 + over)}\n{Good}\n{new string('y', RecordingReader.MaxLineBytes + 1)}";
        var bytes = Encoding.UTF8.GetBytes(text);
        using var stream = new Drip(bytes, chunk == 1 ? bytes.Length : chunk);
        var entries = new RecordingReader(stream).Entries().ToArray();
        Assert.Equal([1L, 2L, 3L, 4L], entries.Select(entry => entry.Line));
        Assert.IsType<RecordingEntry.Read>(entries[2]);
        Assert.All([entries[1], entries[3]], entry => Assert.Equal(RefusalReason.TooLong, ((RecordingEntry.Unreadable)entry).Refusal.Reason));
    }

    [Fact]
    public void The_longest_line_allowed_is_read()
    {
        var head = """{"topic":"t","payload":1,"x":" """;
        var line = head + new string('x', RecordingReader.MaxLineBytes - head.Length - 2) + "\"}";
        Assert.IsType<RecordingEntry.Read>(Assert.Single(Read(Encoding.UTF8.GetBytes(line + "\n"))));
    }

    private static readonly string[] Edges =
    [
        "{}", " {}", "{} ", "{\"a\":\n1}", "\"x\"", "7", "[1,{\"b\":[]}]", "{", "{} {}", "\uFEFF{}",
        new string('[', 1000), new string('[', 40) + new string(']', 40),
    ];

    private static readonly Gen<byte[]> Payload = Gen.OneOf(
        Gen.Byte.Array[0, 40],
        Gen.Int[0, Edges.Length - 1].Select(i => Encoding.UTF8.GetBytes(Edges[i])));

    private static byte[] Written(params RecordedMessage[] messages)
    {
        var stream = new MemoryStream();
        var writer = new RecordingWriter(stream);
        foreach (var message in messages) writer.Write(message);
        return stream.ToArray();
    }

    private static RecordingEntry[] Read(byte[] bytes) => new RecordingReader(new Drip(bytes, 7)).Entries().ToArray();

    /// <summary>Gives a few bytes at a time, as a pipe may.</summary>
    private sealed class Drip(byte[] bytes, int chunk) : MemoryStream(bytes)
    {
        public override int Read(byte[] buffer, int offset, int count) => base.Read(buffer, offset, Math.Min(count, chunk));

        public override int Read(Span<byte> buffer) => base.Read(buffer[..Math.Min(buffer.Length, chunk)]);
    }
}
