using System.Collections.Immutable;
using System.Text.Json;
using AxleTelemetry.Benchmarks.Storage;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Storage;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Benchmarks.Serving;

/// <summary>What a vehicle's day costs: bytes on the disk once sealed, bytes in memory for each vehicle, and the time to run it again without a journal.</summary>
internal static class DayCost
{
    private const int Hours = 10, Variants = 64, FrameSamples = 30;
    private const long Start = 1_772_432_045_000;

    /// <summary>A day of ten hours at one sample a second, of some vehicles: its place on the disk, everything included.</summary>
    public static void Disk(int vehicles)
    {
        Console.WriteLine(Surroundings.Line());
        var directory = Directory.CreateTempSubdirectory("day-").FullName;
        try
        {
            long json;
            using (var store = new JournalStore(CommitCost.Opened(directory)))
            {
                json = Feed(Opened(store, vehicles), vehicles, FrameSamples, 1000);
                while (store.Journal.Seal(new Moment(long.MaxValue)) is WriteOutcome.Committed { More: true }) ;
                // Each step gives back 4 MiB of the room that sealing left.
                for (var step = 0; step < 4 + json / (4 << 20); step++) store.Journal.Retain(Nothing);
            }

            var kept = new DirectoryInfo(directory).GetFiles("*.db").Sum(f => f.Length);
            Console.WriteLine(FormattableString.Invariant($"{vehicles} vehicle-days of {Hours} h at 1 Hz: {json / 1e6 / vehicles:0.00} MB of JSON and {kept / 1e6 / vehicles:0.00} MB on the disk each"));
        }
        finally
        {
            Directory.Delete(directory, recursive: true);
        }
    }

    /// <summary>A day of each of many vehicles, or some hours of it, a sample each ten seconds: what a shard on a journal holds in memory at its end.</summary>
    public static void Memory(int vehicles, int hours = Hours)
    {
        Console.WriteLine(Surroundings.Line());
        // Outlines of countries are there once for all.
        OnJournal(1, shard => Feed(shard, 1, FrameSamples, 10_000));
        var (before, configured, fed, whole) = (InUse(), 0L, 0L, 0L);
        OnJournal(vehicles, shard =>
        {
            configured = InUse() - before;
            var began = Environment.CpuUsage.TotalTime;
            Feed(shard, vehicles, FrameSamples, 10_000, hours: 1);
            Console.WriteLine(FormattableString.Invariant($"{vehicles} vehicles, {configured / 1024.0 / vehicles:0.0} KiB of configuration each; processor time of the first hour {(Environment.CpuUsage.TotalTime - began).TotalSeconds:0} s"));
            Feed(shard, vehicles, FrameSamples, 10_000, from: 1, hours: hours);
            (fed, whole) = (InUse(), Environment.WorkingSet);
        });
        // Against what is left once the shard is gone: what was read outlines into is given back by the runtime at some time in between.
        fed -= InUse();
        Console.WriteLine(FormattableString.Invariant($"after {hours} h at 0.1 Hz: {(fed - configured) / 1024.0 / vehicles:0.0} KiB of memory each, {whole / 1048576.0:0} MiB of the whole process"));
    }

    private static long InUse()
    {
        for (var i = 0; i < 5; i++) GC.Collect(2, GCCollectionMode.Aggressive, blocking: true, compacting: true);
        return GC.GetTotalMemory(forceFullCollection: true);
    }

    private static void OnJournal(int vehicles, Action<Shard> then)
    {
        var directory = Directory.CreateTempSubdirectory("memory-").FullName;
        try
        {
            using var store = new JournalStore(CommitCost.Opened(directory));
            var shard = Opened(store, vehicles);
            then(shard);
            GC.KeepAlive(shard);
        }
        finally
        {
            Directory.Delete(directory, recursive: true);
        }
    }

    /// <summary>A day of some vehicles without a journal, beside a bare pass of the reader with values over the same bytes.</summary>
    public static void Replay(int vehicles)
    {
        Console.WriteLine(Surroundings.Line());
        // What runs for seconds only is mostly being compiled: a day of a few first, in a shard of its own.
        Feed(Opened(new MemoryStore(), 10), 10, FrameSamples, 1000);
        var (fed, samples) = (TimeSpan.Zero, vehicles * Hours * 3600L);
        Feed(Opened(new MemoryStore(), vehicles), vehicles, FrameSamples, 1000, used => fed += used);
        var reader = ReaderPass(vehicles * Hours * 3600 / FrameSamples);
        Console.WriteLine(FormattableString.Invariant($"replay without journal: {fed.TotalMicroseconds / samples:0.00} us a sample, bare reader pass {reader.TotalMicroseconds / samples:0.00} us a sample"));
    }

    private static AxleTelemetry.Storage.Keeping.RetentionPlan Nothing => new() { InputsBefore = new Moment(0), TellingBefore = new Moment(0), Pins = new() { RerunFrom = new Moment(0), SlowestCursor = AxleTelemetry.Storage.Rows.Position.End } };

    private static Shard Opened(IShardStore store, int vehicles)
    {
        var shard = Shard.Begin(store, new ShardOptions());
        shard.Configure(LoadFleet.Configuration(vehicles), new Moment(Start));
        Write(shard);
        return shard;
    }

    /// <summary>Feeds a day, or some hours of it. Returns the bytes of the payloads.</summary>
    private static long Feed(Shard shard, int vehicles, int samples, long every, Action<TimeSpan>? used = null, int from = 0, int hours = Hours)
    {
        var random = new SeededRandom(7);
        LoadPayload[] payloads = [.. Enumerable.Range(0, Variants).Select(_ => new LoadPayload(samples, (412.5, 398.1), random))];
        var (bytes, variant) = (0L, 0);
        for (var at = Start + from * 3_600_000L; at < Start + hours * 3_600_000L; at += samples * every)
        {
            var batch = ImmutableArray.CreateBuilder<Received>(vehicles);
            for (var vehicle = 0; vehicle < vehicles; vehicle++)
            {
                var payload = payloads[variant++ * 17 % payloads.Length];
                var own = payload.Bytes.ToArray();
                payload.Stamp(own, at, every);
                bytes += own.Length;
                batch.Add(new Received { Topic = LoadFleet.Topic(vehicle, "frame"), Payload = own, At = DateTimeOffset.FromUnixTimeMilliseconds(at + samples * every) });
            }

            var before = Environment.CpuUsage.TotalTime;
            foreach (var part in batch.Chunk(1000))
            {
                shard.Append([.. part], new Moment(at + samples * every));
                Write(shard);
            }

            if (shard.Pass(new Moment(at + samples * every))) Write(shard);
            used?.Invoke(Environment.CpuUsage.TotalTime - before);
        }

        return bytes;
    }

    private static TimeSpan ReaderPass(int messages)
    {
        var random = new SeededRandom(7);
        LoadPayload[] payloads = [.. Enumerable.Range(0, Variants).Select(_ => new LoadPayload(FrameSamples, (412.5, 398.1), random))];
        foreach (var payload in payloads) payload.Stamp(Start, 1000);
        var (began, sum) = (Environment.CpuUsage.TotalTime, 0.0);
        for (var i = 0; i < messages; i++)
        {
            var json = new Utf8JsonReader(payloads[i % Variants].Bytes);
            while (json.Read())
                if (json.TokenType == JsonTokenType.Number) sum += json.GetDouble();
        }

        GC.KeepAlive(sum);
        return Environment.CpuUsage.TotalTime - began;
    }

    private static void Write(Shard shard)
    {
        if (shard.Write() is not WriteOutcome.Committed) throw new InvalidOperationException("The batch was not committed.");
    }
}
