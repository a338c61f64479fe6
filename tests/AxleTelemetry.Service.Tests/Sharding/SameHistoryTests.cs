using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Storage;
using AxleTelemetry.Storage.Opening;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>History is a function of the set of what was accepted: not of batches, order, duplicates, delays, crashes, or where it is kept.</summary>
public sealed class SameHistoryTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("axle-shard-");

    public void Dispose() => _folder.Delete(recursive: true);

    public static TheoryData<ulong> Seeds => [.. Enumerable.Range(1, 6).Select(i => (ulong)i)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Any_batching_order_and_duplication_of_a_recording_gives_the_same_digest(ulong seed)
    {
        var messages = FleetTalk.Draw(seed);
        var expected = Digest(messages, _ => 1);
        var random = new SeededRandom(seed);
        Assert.Equal(expected, Digest(messages, _ => random.Whole(1, 300)));
        Assert.Equal(expected, Digest(FleetTalk.Delayed(messages, random), _ => random.Whole(1, 20)));
        Assert.Equal(expected, Digest(FleetTalk.Delayed(FleetTalk.Delayed(messages, random), random), _ => 1));
        for (var i = 0; i < 3; i++) Assert.Equal(expected, Digest(FleetTalk.Disturbed(messages, random), _ => random.Whole(1, 50)));
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void A_journal_that_is_killed_or_closed_at_any_batch_comes_to_the_same_digest(ulong seed)
    {
        var messages = FleetTalk.Draw(seed);
        var expected = Digest(messages, _ => 1);
        var random = new SeededRandom(seed);
        Assert.Equal(expected, Killed(messages, random, 0.03));
        Assert.Equal(expected, Killed(FleetTalk.Delayed(messages, random), random, 0.02));
        Assert.Equal(expected, Killed(FleetTalk.Disturbed(messages, random), random, 0.02));
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Recordings_hold_loads_and_episodes(ulong seed)
    {
        var messages = FleetTalk.Draw(seed);
        var (run, store) = ShardRun.InMemory(messages[0].Received!.Value);
        run.Append(messages);
        run.End();
        var kinds = store.History.GroupBy(r => r.Key.Kind.Code).ToDictionary(g => g.Key, g => g.Count());
        Assert.True(kinds[0] > 50, $"{kinds[0]} rows of loads");
        Assert.True(kinds[1] >= 1, $"{kinds[1]} episodes");
        Assert.True(kinds[2] >= 1, $"{kinds[2]} loads begun");
    }

    private static string Digest(List<RecordedMessage> messages, Func<int, int> batch)
    {
        var (run, store) = ShardRun.InMemory(messages[0].Received!.Value);
        for (var i = 0; i < messages.Count;)
        {
            var length = Math.Min(batch(i), messages.Count - i);
            run.Append(messages[i..(i + length)]);
            i += length;
        }

        run.End();
        return store.Digest();
    }

    private string Killed(List<RecordedMessage> messages, SeededRandom random, double chance)
    {
        var folder = _folder.CreateSubdirectory(Guid.NewGuid().ToString("N")).FullName;
        var (run, store) = Open(folder);
        run.Configure(messages[0].Received!.Value);
        for (var i = 0; i < messages.Count;)
        {
            var length = Math.Min(random.Whole(1, 20), messages.Count - i);
            run.Append(messages[i..(i + length)]);
            if (random.Chance(chance))
            {
                var (now, closes) = (run.Now, random.Chance(0.3));
                if (closes)
                {
                    run.Shard.Close(now);
                    run.Write();
                }
                else if (random.Chance(0.5))
                {
                    // Dies with a batch made and not written: the broker sends it again.
                    i -= Math.Min(length, random.Whole(0, 3));
                }

                store.Dispose();
                (run, store) = Open(folder);
                run.Pass(now);
            }

            i += length;
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
