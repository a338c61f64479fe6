using System.Threading.Channels;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Demonstrating;
using AxleTelemetry.Simulator.Days;

namespace AxleTelemetry.Service.Tests.Demonstrating;

public sealed class DeviceLineTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_slow_receiver_makes_wait_whoever_brings_more_and_loses_nothing()
    {
        var (gate, came) = (new TaskCompletionSource(), new List<long>());
        var line = new DeviceLine(async message =>
        {
            await gate.Task;
            came.Add(message.SentAt.UnixMilliseconds);
        });
        var brought = 0;
        ValueTask bringing;
        while ((bringing = line.AddAsync(Message(brought++), Cancel)).IsCompleted) Assert.InRange(brought, 1, 100);

        Assert.Empty(came);
        gate.SetResult();
        await bringing;
        await line.UntilTaken(Cancel);
        Assert.Equal(Enumerable.Range(0, brought).Select(i => (long)i), came);
        await line.EndAsync();
    }

    [Fact]
    public async Task What_fails_in_sending_is_heard_by_whoever_brings_more()
    {
        var line = new DeviceLine(_ => throw new InvalidOperationException("Broken."));
        var failed = await Assert.ThrowsAnyAsync<ChannelClosedException>(async () =>
        {
            for (var i = 0; ; i++) await line.AddAsync(Message(i), Cancel);
        });
        Assert.Equal("Broken.", failed.InnerException?.Message);
    }

    private static SentMessage Message(int number) => new(new Moment(number), "axles/v1/f/V-1/frame", new byte[] { 1 });
}
