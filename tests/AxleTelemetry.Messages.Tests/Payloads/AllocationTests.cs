using System.Text;
using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Messages.Tests.Payloads;

public class AllocationTests
{
    public static TheoryData<UpStream, string> Good { get; } = new()
    {
        { UpStream.Pressure, """{"t":"2026-03-02T06:14:05.000Z","kpa":{"tag":412.5,"drive":398.1,"steer":300.123456789012345}}""" },
        { UpStream.Lift, """{"t":"2026-03-02T06:14:05.000Z","axles":{"tag":"raised","drive":"lowered"},"by":"driver","reason":"grip"}""" },
        { UpStream.Condition, """{"t":1772432045000,"ride":"normal","mode":"traction","service_brake":false,"wheel_speed_mps":2.23e1,"x":[{}]}""" },
        { UpStream.Position, """{"t":1772432045000,"lat":46.0569,"lon":14.5058,"alt_m":295,"speed_mps":22.1,"heading_deg":87,"accuracy_m":4}""" },
        { UpStream.Frame, """{"speed_mps":22.1,"kpa":{"tag":412.5,"dr\u0069ve":398.1},"axles":{"tag":"loaded"},"lat":46,"lon":14,"pto":true,"t":1772432045000}""" },
    };

    [Theory]
    [MemberData(nameof(Good))]
    public void Good_samples_allocate_nothing_once_the_buffer_has_its_size(UpStream stream, string sample)
    {
        var samples = string.Join(',', Enumerable.Repeat(sample, 100));
        var payload = Encoding.UTF8.GetBytes($$"""{"vehicle":"T-01","seq":7,"boot":"5f2c","samples":[{{samples}}]}""");
        Assert.Equal(0, Allocated(stream, payload));
    }

    [Fact]
    public void Presence_allocates_nothing() =>
        Assert.Equal(0, Allocated(UpStream.Presence, """{"online":true,"t":"2026-03-02T06:14:05.000Z","boot":"5f2c"}"""u8.ToArray()));

    private static long Allocated(UpStream stream, byte[] payload)
    {
        var message = new DecodedMessage();
        var envelope = Decoded.Envelope(stream);
        for (var i = 0; i < 50; i++) PayloadDecoder.Decode(payload, envelope, message);
        Assert.Equal(0, message.Refusals.Total);
        // What the runtime allocates once, when it meets or recompiles something, is not the decoder's: the least of three counts.
        return Enumerable.Range(0, 3).Min(_ =>
        {
            var before = GC.GetAllocatedBytesForCurrentThread();
            for (var i = 0; i < 50; i++) PayloadDecoder.Decode(payload, envelope, message);
            return GC.GetAllocatedBytesForCurrentThread() - before;
        });
    }
}
