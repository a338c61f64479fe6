using System.Collections.Immutable;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Serving;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>The log cannot be read while history is to be run again: nothing stops for it, it is tried again, and comes out the same.</summary>
public sealed class UnreadableTests
{
    public static TheoryData<int> Answered => [0, 1];

    [Theory]
    [MemberData(nameof(Answered))]
    public void A_second_run_that_could_not_read_is_done_later(int answered)
    {
        var messages = RandomFleet.Recording(3, 1200);
        // What one vehicle sends in the middle comes when all else was taken.
        var name = messages[0].Topic.Split('/')[3];
        ImmutableArray<RecordedMessage> late = [.. messages.Skip(messages.Length / 4).Take(messages.Length / 4).Where(m => m.Topic.Contains($"/{name}/", StringComparison.Ordinal))];
        var end = messages[^1].Received!.Value;
        Assert.NotEmpty(late);

        var memory = new MemoryStore();
        var store = new UnreadableStore(memory);
        var run = Fed(store, messages.Except(late), end);
        run.Shard.Append([.. late.Select(m => ShardRun.Of(m with { Received = end.Plus(61) }))], end.Plus(61));
        run.Write();
        (store.Answers, store.Fails) = (answered, 4);
        var tried = end.Plus(120);
        run.Pass(tried);
        Assert.Equal(1, store.Failed);
        Assert.Empty(run.Shard.State.Stopped);
        Assert.Contains(LoopFigures.Of(run.Shard).NotRead, n => n.Why == "The disk does not answer.");
        Assert.False(run.Shard.IsSettled);

        // Not at once, and each time after a longer pause.
        foreach (var (seconds, failed) in ((double, int)[])[(1.9, 1), (2.1, 2), (5.9, 2), (6.2, 3), (14, 3), (15, 4), (30, 4)])
        {
            run.Pass(tried.Plus(seconds));
            Assert.Equal(failed, store.Failed);
        }

        run.Pass(tried.Plus(60));
        run.End();
        Assert.Empty(LoopFigures.Of(run.Shard).NotRead);
        var whole = new MemoryStore();
        Fed(whole, messages, end).End();
        Assert.Equal(whole.Digest(), memory.Digest());
    }

    [Theory]
    [InlineData(0, false)]
    [InlineData(1, false)]
    [InlineData(2, false)]
    [InlineData(0, true)]
    [InlineData(3, true)]
    public void A_message_that_could_not_be_held_against_the_log_loses_nothing(int answered, bool hourIsHeld)
    {
        var messages = RandomFleet.Recording(3, 1200);
        var name = messages[0].Topic.Split('/')[3];
        ImmutableArray<RecordedMessage> late = [.. messages.Skip(messages.Length / 4).Take(messages.Length / 4).Where(m => m.Topic.Contains($"/{name}/", StringComparison.Ordinal))];
        var end = messages[^1].Received!.Value;
        var memory = new MemoryStore();
        var store = new UnreadableStore(memory);
        var run = Fed(store, messages.Except(late), end);
        if (!hourIsHeld) (store.Answers, store.Fails) = (answered, 3);
        foreach (var message in late)
        {
            run.Shard.Append([ShardRun.Of(message with { Received = end.Plus(61) })], end.Plus(61));
            run.Write();
            // From now on what is kept of that hour must get to know of each message that could not be looked for.
            if (hourIsHeld && message == late[0]) (store.Answers, store.Fails) = (answered, 3);
        }

        Assert.Equal(3, store.Failed);
        Assert.Empty(run.Shard.State.Stopped);
        run.Pass(end.Plus(120));
        run.End();
        var whole = new MemoryStore();
        Fed(whole, messages, end).End();
        Assert.Equal(whole.Digest(), memory.Digest());
    }

    private static ShardRun Fed(IShardStore store, IEnumerable<RecordedMessage> messages, Domain.Quantities.Moment end)
    {
        var run = new ShardRun(Shard.Begin(store, new ShardOptions()));
        run.Configure(end);
        foreach (var batch in messages.Chunk(50)) run.Append(batch.Select(m => m with { Received = end }));
        run.Pass(end.Plus(60));
        return run;
    }
}
