using System.Diagnostics;
using AxleTelemetry.Service.Receiving;
using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Protocol;

namespace AxleTelemetry.Benchmarks.Receiving;

/// <summary>What receiving a message costs: the MQTT library's own loop, and this service's receiver, on the same load one after the other.</summary>
internal static class ReceiveLoad
{
    private static readonly TimeSpan WarmUp = TimeSpan.FromSeconds(3);

    public static async Task RunAsync(int seconds, int rate)
    {
        Console.WriteLine(FormattableString.Invariant($"{Environment.ProcessorCount} cores, .NET {Environment.Version}, {seconds} s each, {(rate > 0 ? $"{rate} messages/s" : "all that the broker takes")} at quality of service 1, broker and sender beside it"));
        var time = TimeSpan.FromSeconds(seconds);
        await StockAsync(time, rate);
        await ReceiverAsync("receiver, committed at once", time, rate, static _ => { });
        // A transaction takes a while in which the next batch gathers.
        await ReceiverAsync("receiver, committed in 1 ms", time, rate, static _ => Thread.Sleep(1));
    }

    private static async Task StockAsync(TimeSpan time, int rate)
    {
        using var broker = new LoadBroker();
        using var client = new MqttClientFactory().CreateMqttClient();
        long count = 0;
        client.ApplicationMessageReceivedAsync += _ =>
        {
            Interlocked.Increment(ref count);
            return Task.CompletedTask;
        };
        await client.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", broker.Port).WithProtocolVersion(MqttProtocolVersion.V500).WithReceiveMaximum(2000).Build());
        await client.SubscribeAsync("axles/v1/+/+/frame", MqttQualityOfServiceLevel.AtLeastOnce);
        broker.Send(rate);
        await MeasureAsync("stock MQTTnet loop", time, () => (Volatile.Read(ref count), 0));
    }

    private static async Task ReceiverAsync(string name, TimeSpan time, int rate, Action<IntakeBatch> commit)
    {
        using var broker = new LoadBroker();
        using var stop = new CancellationTokenSource();
        var trace = new ReceiveTrace();
        var intake = new Intake(new IntakeOptions(), trace, TimeProvider.System);
        var connected = new TaskCompletionSource();
        var receiver = new BrokerReceiver(new BrokerOptions { Host = "127.0.0.1", Port = broker.Port, ClientId = "load" }, intake, trace, TimeProvider.System, notice =>
        {
            Console.WriteLine($"  {notice.Text}");
            if (notice.Ready) connected.TrySetResult();
        });
        var running = receiver.RunAsync(stop.Token);
        var consumer = new Thread(() =>
        {
            while (intake.Next(CancellationToken.None) is { } batch)
            {
                commit(batch);
                intake.Committed(batch);
            }
        });
        consumer.Start();
        await connected.Task;
        broker.Send(rate);
        await MeasureAsync(name, time, () => (trace.Acknowledged, trace.Batches));
        intake.End();
        await stop.CancelAsync();
        await running;
        consumer.Join();
    }

    private static async Task MeasureAsync(string name, TimeSpan time, Func<(long Messages, long Batches)> counts)
    {
        await Task.Delay(WarmUp);
        using var process = Process.GetCurrentProcess();
        var (messages, batches) = counts();
        var (processor, allocated, began) = (process.TotalProcessorTime, GC.GetTotalAllocatedBytes(), Stopwatch.GetTimestamp());
        await Task.Delay(time);
        process.Refresh();
        var (more, moreBatches) = counts();
        var count = more - messages;
        var wall = Stopwatch.GetElapsedTime(began).TotalSeconds;
        var used = (process.TotalProcessorTime - processor).TotalMicroseconds / count;
        var bytes = (GC.GetTotalAllocatedBytes() - allocated) / (double)count;
        var size = moreBatches > batches ? count / (double)(moreBatches - batches) : 0;
        Console.WriteLine(FormattableString.Invariant($"{name}: {count / wall:0} messages/s, {used:0.0} us of processor time and {bytes:0} bytes allocated a message, {size:0.0} messages a batch"));
    }
}
