using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Demonstrating;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Series;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Series;
using AxleTelemetry.Simulator.Days;
using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Series;

namespace AxleTelemetry.Benchmarks.Serving;

/// <summary>A day of the demonstration's fleet with the database of series away: how long it takes, from its start on, until all of the day stands there.</summary>
internal static class CatchUp
{
    private const ulong Seed = 6;
    private const long MostHeld = 16L << 20;
    private static readonly DateTimeOffset Start = new(2026, 3, 2, 14, 0, 0, TimeSpan.Zero);
    private static readonly TimeSpan Look = TimeSpan.FromMilliseconds(20), WhileAway = TimeSpan.FromSeconds(1);

    /// <summary>Runs it against <c>influxd</c> (version 1, behind something that hands writing by version 2 on) or <c>victoria-metrics</c>.</summary>
    public static async Task RunAsync(string server, int vehicles)
    {
        Console.WriteLine(Surroundings.Line());
        var directory = Directory.CreateTempSubdirectory("catchup-");
        var clock = new FollowingClock(Start.AddHours(-8));
        try
        {
            var fleet = DemoFleet.Draw(Seed, vehicles, new DemoPace(new FollowingClock(Start)));
            using var place = DemoPlace.Create(Path.Combine(directory.FullName, "fleet"))!;
            place.Write(fleet, ListenAddress.Parse("127.0.0.1:8080")!, DemoPlace.UsualPort);
            var configuration = ((ServiceResult.Loaded)ServiceReading.Read(place.Settings)).Configuration;
            var settings = configuration.Settings.Shards[0];
            var opened = (ShardOpening.Opened)ShardOpening.Open(configuration.DataDirectory, settings.Name, new JournalOptions(), new ShardOptions());
            using var shard = new RunningShard(settings, opened, configuration.Settings.Bounds, new Service.Hosting.Surroundings { Clock = clock });
            shard.Loop.Add(new ShardJob.Configure(configuration.Of(settings)));
            shard.Loop.Start();
            var (front, back) = (FreePort(), FreePort());
            shard.Carry(new SeriesClient(new SeriesTarget(new Uri(FormattableString.Invariant($"http://127.0.0.1:{front}")), "fleet", "axletelemetry"), "a-token-that-is-not-asked-for"), TimeProvider.System);
            var (messages, bytes, first, last) = await FeedAsync(shard, fleet.Play(0, 1), clock);
            clock.Now += TimeSpan.FromHours(1);
            await UntilAsync(() => shard.Desk.Health is { IsSettled: true, ToBeCorrected: 0 });
            await Task.Delay(WhileAway);
            var away = shard.Desk.Series()!;
            Console.WriteLine(FormattableString.Invariant(
                $"{fleet.Vehicles.Length} powered vehicles, {fleet.Everything.Length} in all, {last.SecondsSince(first) / 3600:0.0} h: {messages} messages, {bytes / 1e6:0.0} MB, {shard.Trace.Batches} batches; written outside meanwhile: {away.Written}, because {away.Trouble}"));
            var began = Stopwatch.GetTimestamp();
            using var there = Run(server, Path.Combine(directory.FullName, "series"), server == "influxd" ? back : front);
            await using var second = server == "influxd" ? await Prepared(back, front) : null;
            var answered = Stopwatch.GetElapsedTime(began);
            await UntilAsync(() => shard.Desk.Series()!.Written > 0);
            var tried = Stopwatch.GetElapsedTime(began);
            var used = Environment.CpuUsage.TotalTime;
            await UntilAsync(() => shard.Desk.Read(r => r.Cursor(SeriesCarrier.Cursor)) is CursorState.At at && at.Position >= shard.Desk.Committed);
            var all = Stopwatch.GetElapsedTime(began);
            var state = shard.Desk.Series()!;
            var carrying = all - tried;
            Console.WriteLine(FormattableString.Invariant(
                $"{server}: caught up {all.TotalSeconds:0.0} s after its start. It answered after {answered.TotalSeconds:0.0} s, the first page was there {tried.TotalSeconds:0.0} s after the start (the pause between two tries); the rest took {carrying.TotalSeconds:0.0} s"));
            Console.WriteLine(FormattableString.Invariant(
                $"  {state.Written} points, {state.Written / carrying.TotalSeconds:0} a second, {(Environment.CpuUsage.TotalTime - used).TotalSeconds:0.0} s of processor time of ours; refused {state.Refused.Values.Sum()}, untold {state.Untold}, missed {state.Missed}; load average {Surroundings.LoadAverage()}"));
            await shard.StopAsync();
            there.Kill();
            await there.WaitForExitAsync();
        }
        finally
        {
            directory.Delete(recursive: true);
        }
    }

    private static async Task<(long Messages, long Bytes, Moment First, Moment Last)> FeedAsync(RunningShard shard, IEnumerable<DayOutput> day, FollowingClock clock)
    {
        var (messages, bytes, first, last) = (0L, 0L, default(Moment?), default(Moment));
        foreach (var sent in day.OfType<DayOutput.Sent>().Select(s => s.Message))
        {
            if (shard.Intake.HeldBytes > MostHeld) await UntilAsync(() => shard.Intake.HeldBytes < MostHeld / 2);
            clock.Now = DateTimeOffset.FromUnixTimeMilliseconds(sent.SentAt.UnixMilliseconds);
            if (!shard.Intake.TryTake(new Received { Topic = sent.Topic, Payload = sent.Payload, At = clock.Now })) throw new InvalidOperationException("The intake is full.");
            first ??= sent.SentAt;
            last = sent.SentAt;
            messages++;
            bytes += sent.Payload.Length;
        }

        return (messages, bytes, first ?? last, last);
    }

    private static async Task UntilAsync(Func<bool> condition)
    {
        using var timer = new PeriodicTimer(Look);
        while (!condition()) await timer.WaitForNextTickAsync();
    }

    private static Process Run(string server, string directory, int port)
    {
        Directory.CreateDirectory(directory);
        if (server != "influxd")
            return Process.Start(new ProcessStartInfo("/usr/bin/victoria-metrics",
                [$"-storageDataPath={directory}", string.Create(CultureInfo.InvariantCulture, $"-httpListenAddr=127.0.0.1:{port}"), "-retentionPeriod=100y", "-loggerLevel=ERROR"]))!;
        var file = Path.Combine(directory, "influxd.conf");
        File.WriteAllText(file, InfluxSettings.Text(directory, port, FreePort()));
        return Process.Start(new ProcessStartInfo("/usr/bin/influxd", ["-config", file]))!;
    }

    private static async Task<SecondVersion> Prepared(int back, int front)
    {
        var address = new Uri(FormattableString.Invariant($"http://127.0.0.1:{back}"));
        using var http = new HttpClient { BaseAddress = address };
        await UntilAsync(() => Answers(http));
        using var form = new FormUrlEncodedContent([KeyValuePair.Create("q", "CREATE DATABASE axletelemetry")]);
        using var made = await http.PostAsync(new Uri("/query", UriKind.Relative), form);
        made.EnsureSuccessStatusCode();
        return await SecondVersion.StartAsync(address, front);
    }

    private static bool Answers(HttpClient http)
    {
        try
        {
            using var answer = http.Send(new HttpRequestMessage(HttpMethod.Get, "/ping"));
            return answer.IsSuccessStatusCode;
        }
        catch (HttpRequestException)
        {
            return false;
        }
    }

    private static int FreePort()
    {
        using var probe = new TcpListener(IPAddress.Loopback, 0);
        probe.Start();
        return ((IPEndPoint)probe.LocalEndpoint).Port;
    }
}
