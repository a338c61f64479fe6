using System.Collections.Concurrent;
using System.Net;
using System.Text;
using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Service.Tests.Receiving;

public sealed class EmbeddedBrokerTests : IAsyncLifetime
{
    private const string Frames = "axles/v1/example/RT-01/frame";

    private readonly Station _station = new(new IntakeOptions { MostBytes = 64 * 1024 });
    private readonly EmbeddedBroker _broker;

    public EmbeddedBrokerTests() => _broker = new EmbeddedBroker(new EmbeddedBrokerOptions { EndPoint = new IPEndPoint(IPAddress.Loopback, 0) }, _station.Intake, _station.Trace);

    private int Port => _broker.EndPoint!.Port;

    public async ValueTask InitializeAsync() => await _broker.StartAsync();

    public async ValueTask DisposeAsync()
    {
        await _broker.DisposeAsync();
        await _station.DisposeAsync();
    }

    [Fact]
    public async Task What_goes_out_reaches_who_has_subscribed_is_kept_for_nobody_and_is_not_taken_for_a_message()
    {
        Mosquitto.SkipUnlessInstalled();
        var filters = new ConcurrentQueue<string>();
        _broker.Subscribed = filters.Enqueue;
        await using var old = Listen("axles/v1/north/RT-01/advice");
        await UntilHeard(old, "one");
        await using var late = Listen("axles/v1/+/+/advice");
        await UntilHeard(late, "two");
        // Nothing of what went before it came, and nothing is marked as retained.
        Assert.Equal(["1 0 two"], late.Output.All.Distinct());
        Assert.Equal(["axles/v1/north/RT-01/advice", "axles/v1/+/+/advice"], filters);
        Assert.Equal(0, _station.Trace.Received);

        RunningProgram Listen(string topic) => RunningProgram.Start("/usr/bin/mosquitto_sub", "-h", "127.0.0.1", "-i", $"listener-{topic.Length}", "-V", "mqttv311", "-q", "1", "-p", FormattableString.Invariant($"{Port}"), "-t", topic, "-F", "%q %r %p");

        async Task UntilHeard(RunningProgram listener, string text)
        {
            using var again = new PeriodicTimer(TimeSpan.FromMilliseconds(50));
            var publication = new Publication("axles/v1/north/RT-01/advice", Encoding.UTF8.GetBytes(text)) { Retain = true, Expiry = TimeSpan.FromSeconds(120) };
            for (var tried = 0; !listener.Output.All.Contains($"1 0 {text}"); tried++)
            {
                Assert.True(tried < 400, string.Join('\n', listener.Errors.All));
                Assert.IsType<Handing.Taken>(await _broker.PublishAsync(publication, TestContext.Current.CancellationToken));
                await again.WaitForNextTickAsync(TestContext.Current.CancellationToken);
            }
        }
    }

    [Fact]
    public async Task The_answer_means_committed()
    {
        await using var device = await Device.At(Port);
        var sending = device.Send("one");
        var taken = await _station.Take(1);
        Assert.False(sending.IsCompleted);
        _station.Commit(taken);
        Assert.True((await sending).IsSuccess);
        Assert.Equal(1, _station.Trace.Acknowledged);
    }

    [Fact]
    public async Task Every_quality_of_service_is_taken_and_devices_do_not_wait_for_each_other()
    {
        await using var first = await Device.At(Port, "first");
        await using var second = await Device.At(Port, "second");
        var sendings = new[] { first.Send("exactly once", quality: 2), second.Send("at least once") };
        var taken = await _station.Take(2);
        Assert.All(sendings, sending => Assert.False(sending.IsCompleted));
        _station.Commit(taken);
        Assert.All(await Task.WhenAll(sendings), result => Assert.True(result.IsSuccess));
        await first.Send("at most once", quality: 0);
        Assert.Equal(["at most once"], Station.Texts(await _station.Take(1)));
        Assert.Equal(1, _station.Trace.AtMostOnce);
    }

    [Fact]
    public async Task What_was_not_answered_comes_again_and_is_handed_out_again_and_the_old_answer_is_dropped()
    {
        var gone = await Wire.To(Port);
        await Greet(gone, "unit");
        await gone.Send(Wire.PublishPacket(Frames, 1, "one"));
        var first = await _station.Take(1);
        gone.Dispose();

        using var back = await Wire.To(Port);
        await Greet(back, "unit");
        await back.Send(Wire.PublishPacket(Frames, 1, "one", redelivered: true));
        var second = await _station.Take(1);
        Assert.Equal(["one", "one"], Station.Texts([.. first, .. second]));
        Assert.Equal(1, _station.Trace.Redelivered);
        var answer = back.Next();
        _station.Commit(first);
        Assert.Equal(1, _station.Trace.AcknowledgementsDropped);
        Assert.False(answer.IsCompleted);
        _station.Commit(second);
        Assert.Equal((Wire.PubAck, (ushort)1), await Answered(answer));
    }

    [Fact]
    public async Task A_packet_id_used_again_on_a_new_connection_is_answered_for_its_own_message_only()
    {
        for (var round = 0; round < 50; round++)
        {
            var old = await Wire.To(Port);
            // A name for each round: the server may end a connection that follows a closed one of the same name at once.
            var name = $"unit-{round}";
            await Greet(old, name);
            await old.Send(Wire.PublishPacket(Frames, 1, "old"));
            var first = await _station.Take(1);
            // The device starts again while its message is being committed, and numbers from 1.
            var commit = Task.Run(() => _station.Commit(first), TestContext.Current.CancellationToken);
            using var back = await Wire.To(Port);
            await Greet(back, name);
            await back.Send(Wire.PublishPacket(Frames, 1, "new"));
            var answer = back.Next();
            var second = await _station.Take(1);
            await commit;
            Assert.False(answer.IsCompleted);
            _station.Commit(second);
            Assert.Equal((Wire.PubAck, (ushort)1), await Answered(answer));
            old.Dispose();
        }
    }

    [Fact]
    public async Task Other_topics_are_passed_on_as_by_any_broker()
    {
        await using var reader = await Device.At(Port, "reader");
        var came = new TaskCompletionSource<string>();
        reader.Client.ApplicationMessageReceivedAsync += message =>
        {
            came.TrySetResult(message.ApplicationMessage.Topic);
            return Task.CompletedTask;
        };
        await MQTTnet.MqttClientExtensions.SubscribeAsync(reader.Client, "axles/v1/example/RT-01/advice", cancellationToken: TestContext.Current.CancellationToken);
        await using var sender = await Device.At(Port, "sender");
        Assert.True((await sender.Send("raise it", "axles/v1/example/RT-01/advice")).IsSuccess);
        Assert.Equal("axles/v1/example/RT-01/advice", await came.Task.WaitAsync(TimeSpan.FromSeconds(60), TestContext.Current.CancellationToken));
        Assert.Equal(0, _station.Trace.Received);
    }

    [Fact]
    public async Task A_packet_over_64_KiB_ends_its_connection_before_it_is_read()
    {
        using var large = await Wire.To(Port);
        await Greet(large, "large");
        await large.Send([0x32, 0xFF, 0xFF, 0xFF, 0x7F]);
        Assert.Null(await large.Next());
        using var fits = await Wire.To(Port);
        await Greet(fits, "fits");
        await fits.Send(Wire.PublishPacket(Frames, 1, new byte[60_000]));
        _station.Commit(await _station.Take(1));
        Assert.Equal((Wire.PubAck, (ushort)1), await Answered(fits.Next()));
    }

    [Fact]
    public async Task Full_it_sends_devices_away_and_takes_them_back_when_there_is_room()
    {
        using var first = await Wire.To(Port);
        await Greet(first, "first");
        await first.Send(Wire.PublishPacket(Frames, 1, new byte[40_000]));
        var waiting = await _station.Take(1);
        using var second = await Wire.To(Port);
        await Greet(second, "second");
        await second.Send(Wire.PublishPacket(Frames, 1, new byte[40_000]));
        Assert.Null(await UntilClosed(first));
        Assert.Null(await UntilClosed(second));
        Assert.IsType<IntakeState.Full>(_station.Intake.State);
        await Assert.ThrowsAnyAsync<Exception>(() => Device.At(Port, "third"));
        _station.Commit(waiting);
        using var back = await Wire.To(Port);
        await Greet(back, "second");
        await back.Send(Wire.PublishPacket(Frames, 1, new byte[40_000], redelivered: true));
        _station.Commit(await _station.Take(1));
        Assert.Equal((Wire.PubAck, (ushort)1), await Answered(back.Next()));
    }

    private static async Task Greet(Wire wire, string id)
    {
        await wire.Send(Wire.ConnectPacket(id));
        Assert.Equal(Wire.ConnAck, (await wire.Next())!.Value.Type);
    }

    /// <summary>Nothing but a good-bye comes before the end.</summary>
    private static async Task<object?> UntilClosed(Wire wire)
    {
        while (await wire.Next() is { } packet)
        {
            if (packet.Type != Wire.Disconnect) return packet;
        }

        return null;
    }

    private static async Task<(int Type, ushort Id)> Answered(Task<(int Type, byte[] Body)?> answer)
    {
        var packet = (await answer.WaitAsync(TimeSpan.FromSeconds(60), TestContext.Current.CancellationToken))!.Value;
        return (packet.Type, Wire.Id(packet.Body));
    }
}
