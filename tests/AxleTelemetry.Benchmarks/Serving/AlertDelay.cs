using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using AxleTelemetry.Benchmarks.Receiving;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Benchmarks.Serving;

/// <summary>
/// Time from the publishing of the last message that an alert needs to that alert on the live stream of a listener: behind a real broker,
/// while a fleet of others sends at a given rate. Overloaded vehicles set out one after the other, so that their alerts come one by one.
/// </summary>
internal static class AlertDelay
{
    private const int Others = 1_000, Overloaded = 1_200, OnTheRoad = 240, OverloadedRate = 3_000;
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(150);

    /// <param name="rate">Messages of one sample a second of all together.</param>
    public static async Task RunAsync(int rate)
    {
        Console.WriteLine(Surroundings.Line());
        var start = DateTimeOffset.UtcNow.AddDays(-2).ToUnixTimeMilliseconds() / 1000 * 1000;
        var needed = Needed(start);
        Console.WriteLine(FormattableString.Invariant($"fsync of 4 KiB here: {Surroundings.SyncTime().TotalMilliseconds:0.00} ms (median of 200); an alert needs messages 0 to {needed} of its vehicle"));
        using var broker = new LoadBroker();
        using var service = new LoadedService(broker.Port, Others + Overloaded);
        using var listener = await AlertListener.OpenAsync(service.HttpPort, service.Data);
        if (rate > OverloadedRate) service.Send(new FleetTraffic(broker.Port, Others, 1, rate - OverloadedRate, start, Laden: false, Marked: -1));
        await Task.Delay(TimeSpan.FromSeconds(8));
        var (first, processor, began) = (service.Reader.LastBatch(), service.Processor, Stopwatch.GetTimestamp());
        service.Send(new FleetTraffic(broker.Port, Overloaded, 1, Math.Min(rate, OverloadedRate), start, Laden: true, Marked: needed) { First = Others, OnTheRoad = OnTheRoad });
        while (listener.Heard.Count < Overloaded && Stopwatch.GetElapsedTime(began) < Longest) await Task.Delay(100);
        var (span, used) = (Stopwatch.GetElapsedTime(began).TotalSeconds, service.Processor - processor);
        await Task.Delay(1_100);
        service.EndSending();
        var messages = service.Batches(first, service.Reader.LastBatch()).Values.Sum();
        Report(service.Marked, listener.Heard);
        Console.WriteLine(FormattableString.Invariant($"  at {messages / span:0} messages/s, {used.TotalSeconds / span:0.00} cores of the service, load average {Surroundings.LoadAverage()}"));
    }

    private static void Report(IReadOnlyDictionary<int, long> marked, IReadOnlyDictionary<string, Hearing> heard)
    {
        var heardOf = marked.Where(m => heard.ContainsKey(LoadFleet.Vehicle(m.Key))).Select(m => (Sent: m.Value, Heard: heard[LoadFleet.Vehicle(m.Key)])).ToList();
        if (heardOf.Count == 0) throw new InvalidOperationException("No alert was heard.");
        Console.WriteLine(FormattableString.Invariant($"{heardOf.Count} alerts of {Overloaded} vehicles, milliseconds from the publishing of the last needed message:"));
        Print("to its batch begun", heardOf.Select(h => h.Heard.TakenAt - h.Heard.WallOf(h.Sent)));
        Print("to the alert on the live stream", heardOf.Select(h => Stopwatch.GetElapsedTime(h.Sent, h.Heard.At).TotalMilliseconds));
    }

    private static void Print(string what, IEnumerable<double> delays)
    {
        double[] sorted = [.. delays.Order()];
        double At(double part) => sorted[(int)(part * (sorted.Length - 1))];
        Console.WriteLine(FormattableString.Invariant($"  {what}: least {sorted[0]:0.0}, p50 {At(0.5):0.0}, p90 {At(0.9):0.0}, p99 {At(0.99):0.0}, most {sorted[^1]:0.0}"));
    }

    // The same payloads, one after the other, in a shard in memory: after which of them there is an alert.
    private static int Needed(long start)
    {
        var shard = Shard.Begin(new MemoryStore(), new ShardOptions());
        shard.Configure(LoadFleet.Configuration(1), new Moment(start));
        Write(shard);
        var payloads = FleetTraffic.Payloads(1, laden: true);
        for (var number = 0; number < OnTheRoad; number++)
        {
            var at = start + 1000L * number;
            payloads[number % payloads.Length].Stamp(at, 1000);
            shard.Append([new Received { Topic = LoadFleet.Topic(0, "frame"), Payload = payloads[number % payloads.Length].Bytes.ToArray(), At = DateTimeOffset.FromUnixTimeMilliseconds(at) }], new Moment(at));
            Write(shard);
            if (shard.State.Alerts.Alerts.Any()) return number;
        }

        throw new InvalidOperationException("These payloads bring no alert.");
    }

    private static void Write(Shard shard)
    {
        if (shard.Write() is not WriteOutcome.Committed) throw new InvalidOperationException("The batch was not committed.");
    }

    /// <summary>When an alert was heard.</summary>
    /// <param name="At">By the monotonic clock.</param>
    /// <param name="Wall">The same, Unix milliseconds.</param>
    /// <param name="TakenAt">When the batch was begun that brought it, Unix milliseconds, as the service says.</param>
    private sealed record Hearing(long At, double Wall, double TakenAt)
    {
        public double WallOf(long at) => Wall - Stopwatch.GetElapsedTime(at, At).TotalMilliseconds;
    }

    /// <summary>Listens to the live stream, and notes when the first alert of each vehicle came.</summary>
    private sealed class AlertListener : IDisposable
    {
        private readonly HttpClient _http = new() { Timeout = Timeout.InfiniteTimeSpan };
        private readonly ConcurrentDictionary<string, Hearing> _heard = [];

        public IReadOnlyDictionary<string, Hearing> Heard => _heard;

        public static async Task<AlertListener> OpenAsync(int port, string data)
        {
            var listener = new AlertListener();
            while (true)
                try
                {
                    if (CommandToken.Read(data) is { } token) listener._http.DefaultRequestHeaders.Authorization = new("Bearer", System.Text.Encoding.UTF8.GetString(token.Reveal()));
                    var stream = await listener._http.GetStreamAsync(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{port}/api/v1/events"));
                    _ = Task.Run(() => listener.ListenAsync(new StreamReader(stream)));
                    return listener;
                }
                catch (HttpRequestException)
                {
                    // It connects to its broker before it opens its doors.
                    await Task.Delay(50);
                }
        }

        public void Dispose() => _http.Dispose();

        private async Task ListenAsync(StreamReader stream)
        {
            var isAlert = false;
            while (await stream.ReadLineAsync() is { } line)
            {
                var now = Stopwatch.GetTimestamp();
                if (line.StartsWith("event: ", StringComparison.Ordinal)) isAlert = line == "event: alert";
                else if (isAlert && line.StartsWith("data: ", StringComparison.Ordinal)) Note(line, now);
            }
        }

        private void Note(string line, long now)
        {
            using var document = JsonDocument.Parse(line.AsMemory(6));
            var at = document.RootElement.GetProperty("at").GetDateTimeOffset().ToUnixTimeMilliseconds();
            _heard.TryAdd(document.RootElement.GetProperty("vehicle").GetString()!, new Hearing(now, (DateTime.UtcNow - DateTime.UnixEpoch).TotalMilliseconds, at));
        }
    }
}
