using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Drives;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Recordings;
using AxleTelemetry.Storage.Opening;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>History is a function of the set of what was accepted: not of batches, order, duplicates, delays, kills, or where it is kept.</summary>
public sealed class SameHistoryTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("axle-shard-");

    public void Dispose() => _folder.Delete(recursive: true);

    public static TheoryData<ulong> Seeds => [.. Enumerable.Range(1, 8).Select(i => (ulong)i)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Any_batching_order_and_duplication_of_a_recording_gives_the_same_digest(ulong seed)
    {
        var messages = RandomFleet.Recording(seed, 3000);
        var expected = Digest(messages, () => 1);
        var random = new SeededRandom(seed);
        Assert.Equal(expected, Digest(messages, () => random.Whole(1, 300)));
        foreach (var disturbed in Disturbed(messages, random)) Assert.Equal(expected, Digest(disturbed, () => random.Whole(1, 40)));
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void A_queue_of_hours_taken_in_one_batch_gives_the_same_digest_whatever_was_coupled_to_what_meanwhile(ulong seed)
    {
        var messages = RandomFleet.Recording(seed);
        Assert.Equal(Digest(messages, () => 50), Digest(messages, () => messages.Length));
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void A_journal_that_is_killed_or_closed_at_any_batch_comes_to_the_same_digest(ulong seed)
    {
        var messages = RandomFleet.Recording(seed, 2400);
        var expected = Digest(messages, () => 1);
        var random = new SeededRandom(seed);
        Assert.Equal(expected, Killed(messages, random));
        Assert.Equal(expected, Killed(Disturbed(messages, random).Last(), random));
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Time_alone_brings_the_last_words_of_a_vehicle_that_falls_silent_into_its_history(ulong seed)
    {
        var messages = RandomFleet.Recording(seed, 2400);
        var random = new SeededRandom(seed);
        for (var i = 0; i < 3; i++)
        {
            var all = messages[..random.Whole(messages.Length / 2, messages.Length)];
            var (run, store) = ShardRun.InMemory(all[0].Received!.Value);
            // As fast as they come out of a broker's queue, each vehicle's by itself.
            foreach (var (message, at) in all.OrderBy(m => m.Topic.Split('/')[3]).Select((m, n) => (m, all[^1].Received!.Value.Plus(0.02 * n)))) run.Append(message with { Received = at });
            for (var second = 1; second <= 60; second++) run.Pass(run.Now.Plus(1));
            Assert.True(run.Shard.IsSettled);
            Assert.Equal(Digest(all, () => 50), store.Digest());
        }
    }

    [Fact]
    public void Trailers_in_it_leave_with_what_is_known_to_be_aboard()
    {
        var seeds = Seeds.Count(seed =>
        {
            var messages = RandomFleet.Recording(seed.Data, 3000);
            var (run, store) = ShardRun.InMemory(messages[0].Received!.Value);
            foreach (var some in messages.Chunk(100)) run.Append(some);
            run.End();
            return store.History.Any(r => r.Key.Kind == HistoryReading.KindOf(RowKind.Parted));
        });
        Assert.InRange(seeds, 3, 8);
    }

    private static IEnumerable<ImmutableArray<RecordedMessage>> Disturbed(ImmutableArray<RecordedMessage> messages, SeededRandom random)
    {
        yield return messages.Jostled(random.Between(5, 300), random).Repeated(0.2, random);
        yield return Delayed(messages, random);
        yield return messages.Rebatched(random).RepeatedOtherwise(0.3, random).Permuted(random);
        yield return Delayed(messages.RepeatedOtherwise(0.1, random), random).Jostled(30, random);
    }

    private static ImmutableArray<RecordedMessage> Delayed(ImmutableArray<RecordedMessage> messages, SeededRandom random)
    {
        var (first, last) = (messages[0].Received!.Value, messages[^1].Received!.Value);
        var from = first.Plus(random.Between(0.1, 0.5) * last.SecondsSince(first));
        var vehicle = random.Pick([.. RandomFleet.Scene.Vehicles.Select(v => v.Id)]);
        return messages.Delayed(vehicle, (from, from.Plus(random.Between(60, 1500))), random.Pick(StoredFirst.Oldest, StoredFirst.Newest));
    }

    private static string Digest(ImmutableArray<RecordedMessage> messages, Func<int> batch)
    {
        var (run, store) = ShardRun.InMemory(messages[0].Received!.Value);
        for (int i = 0, length; i < messages.Length; i += length)
        {
            length = Math.Min(batch(), messages.Length - i);
            run.Append(messages[i..(i + length)]);
        }

        run.End();
        return store.Digest();
    }

    private string Killed(ImmutableArray<RecordedMessage> messages, SeededRandom random)
    {
        var folder = _folder.CreateSubdirectory(Guid.NewGuid().ToString("N")).FullName;
        var (run, store) = Open(folder);
        run.Configure(messages[0].Received!.Value);
        for (int i = 0, length; i < messages.Length; i += length)
        {
            length = Math.Min(random.Whole(1, 60), messages.Length - i);
            run.Append(messages[i..(i + length)]);
            if (!random.Chance(0.15)) continue;
            var now = run.Now;
            if (random.Chance(0.3)) run.Close();
            // Killed after the commit and before the acknowledgement: some come again.
            else i -= Math.Min(length - 1, random.Whole(0, 3));
            store.Dispose();
            (run, store) = Open(folder);
            run.Pass(now);
        }

        run.End();
        using (store)
        using (var reader = store.Journal.Reader())
            return reader.Digest();
    }

    private static (ShardRun Run, JournalStore Store) Open(string folder)
    {
        var opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(folder, "main", new JournalOptions { ReserveBytes = 0 }, new ShardOptions()));
        return (new ShardRun(opened.Shard), opened.Store);
    }
}
