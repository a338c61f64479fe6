using System.Diagnostics;
using AxleTelemetry.Benchmarks.Receiving;
using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Protocol;

namespace AxleTelemetry.Benchmarks.Serving;

/// <summary>The service as a whole under load: a real broker, the service on a journal, and a sender, all processes of their own on this machine.</summary>
internal static class ServiceLoad
{
    private const int Vehicles = 1_000, Runs = 3;
    private static readonly TimeSpan WarmUp = TimeSpan.FromSeconds(8);

    public static async Task RunAsync(int seconds)
    {
        var time = TimeSpan.FromSeconds(seconds);
        Console.WriteLine(Surroundings.Line());
        Console.WriteLine(FormattableString.Invariant($"fsync of 4 KiB here: {Surroundings.SyncTime().TotalMilliseconds:0.00} ms (median of 200)"));
        var costs = new List<(double Stock, double Service)>();
        for (var run = 0; run < Runs; run++) costs.Add((await StockAsync(time), await SaturatedAsync(time)));
        var ratio = costs.Select(c => c.Service / c.Stock).Order().ElementAt(Runs / 2);
        Console.WriteLine(FormattableString.Invariant($"service : stock loop = {ratio:0.00} (median of {Runs})"));
        Console.WriteLine();
    }

    /// <summary>Messages of 30 samples at a rate, for a minute or as long as wanted.</summary>
    public static async Task FramesAsync(int seconds, int samplesPerSecond)
    {
        Console.WriteLine(Surroundings.Line());
        using var broker = new LoadBroker();
        using var service = new LoadedService(broker.Port, Vehicles);
        service.Send(new FleetTraffic(broker.Port, Vehicles, 30, samplesPerSecond / 30, Started(days: 3), Laden: false, Marked: -1));
        await Task.Delay(WarmUp);
        var seen = new List<(long Batch, long At)>();
        var (processor, began) = (service.Processor, Stopwatch.GetTimestamp());
        while (Stopwatch.GetElapsedTime(began).TotalSeconds < seconds)
        {
            seen.Add((service.Reader.LastBatch(), Stopwatch.GetTimestamp()));
            await Task.Delay(1000);
        }

        seen.Add((service.Reader.LastBatch(), Stopwatch.GetTimestamp()));
        var used = service.Processor - processor;
        service.EndSending();
        Report(service, seen, used);
    }

    private static void Report(LoadedService service, List<(long Batch, long At)> seen, TimeSpan used)
    {
        var batches = service.Batches(0, seen[^1].Batch);
        var first = batches.Where(b => b.Key <= seen[0].Batch).Sum(b => (long)b.Value);
        var committed = batches.Sum(b => (long)b.Value) - first;
        var span = Stopwatch.GetElapsedTime(seen[0].At, seen[^1].At).TotalSeconds;
        Console.WriteLine(FormattableString.Invariant(
            $"frames of 30: {30 * committed / span:0} samples/s ({committed / span:0} messages/s) over {span:0} s, {used.TotalMicroseconds / committed:0.0} us of the service's processor time a message, {used.TotalSeconds / span:0.00} cores, load average {Surroundings.LoadAverage()}"));
        foreach (var (batch, at) in seen.Where((_, i) => i % 10 == 0 || i == seen.Count - 1))
            Console.WriteLine(FormattableString.Invariant(
                $"  after {Stopwatch.GetElapsedTime(seen[0].At, at).TotalSeconds,3:0} s sent and not yet committed: {SentAt(service, at) - batches.Where(b => b.Key <= batch).Sum(b => (long)b.Value):0} messages"));
    }

    // Told once a second: between two it is the straight line.
    private static double SentAt(LoadedService service, long at)
    {
        var told = service.Sent.ToArray();
        var i = Math.Clamp(Array.FindIndex(told, t => t.At >= at), 1, told.Length - 1);
        return told[i - 1].Sent + (double)(told[i].Sent - told[i - 1].Sent) * (at - told[i - 1].At) / (told[i].At - told[i - 1].At);
    }

    private static async Task<double> SaturatedAsync(TimeSpan time)
    {
        using var broker = new LoadBroker();
        using var service = new LoadedService(broker.Port, Vehicles);
        service.Send(new FleetTraffic(broker.Port, Vehicles, 1, 0, Started(days: 1), Laden: false, Marked: -1));
        await Task.Delay(WarmUp);
        var (first, processor, began) = (service.Reader.LastBatch(), service.Processor, Stopwatch.GetTimestamp());
        await Task.Delay(time);
        var (last, used, span) = (service.Reader.LastBatch(), service.Processor - processor, Stopwatch.GetElapsedTime(began).TotalSeconds);
        service.EndSending();
        var batches = service.Batches(first, last);
        var messages = batches.Values.Sum();
        int[] sizes = [.. batches.Values.Order()];
        var each = used.TotalMicroseconds / messages;
        Console.WriteLine(FormattableString.Invariant(
            $"serve: {messages / span:0} messages/s, {each:0.0} us of processor time a message, {used.TotalSeconds / span:0.00} cores, messages a batch {messages / (double)sizes.Length:0} (median {sizes[sizes.Length / 2]}, most {sizes[^1]}), {service.Memory >> 20} MB, load average {Surroundings.LoadAverage()}"));
        return each;
    }

    private static async Task<double> StockAsync(TimeSpan time)
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
        using var sender = Process.Start(new ProcessStartInfo(Environment.ProcessPath!, ["fleet", .. new FleetTraffic(broker.Port, Vehicles, 1, 0, Started(days: 1), Laden: false, Marked: -1).Words()]) { RedirectStandardOutput = true })!;
        _ = sender.StandardOutput.BaseStream.CopyToAsync(Stream.Null);
        await Task.Delay(WarmUp);
        var (messages, processor, began) = (Volatile.Read(ref count), Environment.CpuUsage.TotalTime, Stopwatch.GetTimestamp());
        await Task.Delay(time);
        var (more, used, span) = (Volatile.Read(ref count) - messages, Environment.CpuUsage.TotalTime - processor, Stopwatch.GetElapsedTime(began).TotalSeconds);
        sender.Kill();
        await sender.WaitForExitAsync();
        Console.WriteLine(FormattableString.Invariant($"stock MQTTnet loop: {more / span:0} messages/s, {used.TotalMicroseconds / more:0.0} us of processor time a message, load average {Surroundings.LoadAverage()}"));
        return used.TotalMicroseconds / more;
    }

    private static long Started(int days) => DateTimeOffset.UtcNow.AddDays(-days).ToUnixTimeMilliseconds() / 1000 * 1000;
}
