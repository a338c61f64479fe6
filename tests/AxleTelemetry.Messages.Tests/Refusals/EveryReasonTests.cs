using System.Text;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Messages.Tests.Payloads;
using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Messages.Tests.Refusals;

public class EveryReasonTests
{
    [Fact]
    public void No_reason_is_there_for_nothing()
    {
        Refusal[] met =
        [
            Of("axles/v1/f/v"), Of("axles/v1/f/v/voice"), Of("axles/v1/f//lift"),
            Of(UpStream.Lift, new string(' ', 70_000)), Of(UpStream.Lift, new string('[', 20)), Of(UpStream.Lift, "?"),
            Decoded.From(UpStream.Lift, [0xFF]).OnlyRefusal(),
            Of(UpStream.Lift, """{"vehicle":"x"}"""), Of(UpStream.Lift, "{}"), Of(UpStream.Lift, "[]"),
            Of(UpStream.Lift, $$"""{"samples":[{{string.Join(',', Enumerable.Repeat("""{"t":0}""", 1001))}}]}"""),
            OfSample(""" "kpa":{"tag":1e400} """), OfSample(""" "kpa":{"tag":1e4} """), OfSample(""" "kpa":{"x":1} """),
            OfSample(""" "axles":{"x":"raised"} """), OfSample(""" "axles":{"tag":"x"} """), OfSample(""" "mode":"x" """),
            OfSample(""" "lat":1 """), OfSample(""" "t":5 """),
            Of(UpStream.Frame, """{"samples":[{"t":"x"}]}"""), Of(UpStream.Frame, """{"samples":[{"t":9000000000000}]}"""),
            OfLine("""{"topic":"x","payload_base64":"?"}"""),
        ];
        // Met where the descriptions of a fleet are at hand, not in a payload by itself.
        Assert.Equal(Enum.GetValues<RefusalReason>().Where(r => r != RefusalReason.CannotBeCoupled), met.Select(refusal => refusal.Reason).Distinct().Order());
    }

    private static Refusal Of(string topic) => Assert.IsType<TopicResult.Refused>(Topic.Parse(topic)).Refusal;

    private static Refusal Of(UpStream stream, string payload) => Decoded.From(stream, payload).RefusedWhole ?? Decoded.From(stream, payload).OnlyRefusal();

    private static Refusal OfSample(string fields) => Decoded.Sample(UpStream.Frame, fields).OnlyRefusal();

    private static Refusal OfLine(string line) => Assert.IsType<RecordingEntry.Unreadable>(
        Assert.Single(new RecordingReader(new MemoryStream(Encoding.UTF8.GetBytes(line))).Entries())).Refusal;
}
