using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Benchmarks.Storage;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Benchmarks.Serving;

/// <summary>What a shard costs, from payload bytes to the committed batch, on one thread: in memory, and on a journal.</summary>
internal static class ShardCost
{
    private const int Vehicles = 1_000, Variants = 64;
    private const long Start = 1_772_432_045_000;

    /// <param name="rounds">How often each vehicle sends a frame of 30 samples; of one sample ten times as often.</param>
    public static void Run(int rounds)
    {
        Console.WriteLine(Surroundings.Line());
        foreach (var (samples, batch) in ((int, int)[])[(30, 1_000), (30, 100), (1, 1_000), (1, 100), (1, 10)])
            foreach (var onJournal in (bool[])[false, true])
                Measure(samples == 1 ? 10 * rounds : rounds, samples, batch, onJournal);
    }

    /// <summary>One case alone, for a profiler.</summary>
    public static void Run(int rounds, int samples, int batch) => Measure(rounds, samples, batch, onJournal: false);

    private static void Measure(int rounds, int samples, int batch, bool onJournal)
    {
        var directory = Directory.CreateTempSubdirectory("shard-").FullName;
        using var journal = onJournal ? new JournalStore(CommitCost.Opened(directory)) : null;
        try
        {
            var shard = Shard.Begin(journal is null ? new MemoryStore() : journal, new ShardOptions());
            shard.Configure(LoadFleet.Configuration(Vehicles), new Moment(Start));
            Write(shard);
            var random = new SeededRandom(7);
            LoadPayload[] payloads = [.. Enumerable.Range(0, Variants).Select(_ => new LoadPayload(samples, (412.5, 398.1), random))];
            string[] topics = [.. Enumerable.Range(0, Vehicles).Select(i => LoadFleet.Topic(i, "frame"))];
            var (warm, used, allocated, messages) = (rounds / 3 + 1, TimeSpan.Zero, 0L, 0);
            for (var round = 0; round < warm + rounds; round++)
                for (var first = 0; first < Vehicles; first += batch)
                {
                    var at = new Moment(Start + (round + 1L) * samples * 1000);
                    var made = Batch(topics.AsSpan(first, batch), payloads, round + first, at);
                    var (before, bytes) = (Environment.CpuUsage.TotalTime, GC.GetAllocatedBytesForCurrentThread());
                    shard.Append(made, at);
                    Write(shard);
                    if (shard.Pass(at)) Write(shard);
                    if (round < warm) continue;
                    used += Environment.CpuUsage.TotalTime - before;
                    allocated += GC.GetAllocatedBytesForCurrentThread() - bytes;
                    messages += batch;
                }

            var each = used.TotalMicroseconds / messages;
            Console.WriteLine(FormattableString.Invariant(
                $"{samples,2} samples a message, {batch,4} messages a batch, {(onJournal ? "journal" : "memory "),7}: {each,7:0.00} us a message, {each / samples,6:0.000} us a sample, {(double)allocated / messages,7:0} bytes a message"));
        }
        finally
        {
            journal?.Dispose();
            Directory.Delete(directory, recursive: true);
        }
    }

    private static ImmutableArray<Received> Batch(ReadOnlySpan<string> topics, LoadPayload[] payloads, int variant, Moment at)
    {
        var batch = ImmutableArray.CreateBuilder<Received>(topics.Length);
        foreach (var topic in topics)
        {
            var payload = payloads[variant++ * 17 % payloads.Length];
            var bytes = payload.Bytes.ToArray();
            payload.Stamp(bytes, at.UnixMilliseconds - 1000 * (payload.Samples - 1), 1000);
            batch.Add(new Received { Topic = topic, Payload = bytes, At = DateTimeOffset.FromUnixTimeMilliseconds(at.UnixMilliseconds) });
        }

        return batch.MoveToImmutable();
    }

    private static void Write(Shard shard)
    {
        if (shard.Write() is not WriteOutcome.Committed) throw new InvalidOperationException("The batch was not committed.");
    }
}
