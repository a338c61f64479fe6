using System.Collections.Immutable;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Telling;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>An alert that a second run brings says as much as one that was found on the way: by how much, and what would end it.</summary>
public sealed class ToldLateTests
{
    private readonly ImmutableArray<RecordedMessage> _messages = Haul.Of("17 t at 4.3 m", 2, "rigid-6x2-tag");

    [Fact]
    public void Frames_that_come_late_bring_the_figures_and_the_remedy()
    {
        var live = Told(_messages, [], out _);
        var found = live.Where(c => c.Figures is not null && c.Cause is "began" or "rose" or "fell").ToArray();
        var end = _messages[^1].Received!.Value;
        var late = Told([.. _messages[..2], _messages[^1]], [.. _messages[2..^1].Select(m => m with { Received = end.Plus(65) })], out var corrected);
        Assert.True(corrected > 0);
        Assert.NotEmpty(found);
        foreach (var alert in found.GroupBy(c => c.Subject))
        {
            var (first, last) = (alert.First(), alert.Last());
            var change = late.First(c => c.Subject == alert.Key);
            Assert.NotNull(last.Figures);
            Assert.Equal(last.Figures, change.Figures);
            // The sentence of what was found last, without the word that tells of its change.
            Assert.EndsWith(last.Sentence[(last.Sentence.IndexOf(": ", StringComparison.Ordinal) is var at && last != first && at >= 0 ? at + 2 : 0)..], change.Sentence, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Who_is_called_once_a_backlog_is_taken_is_told_what_to_do()
    {
        var store = new TellingStore();
        var run = new ShardRun(Shard.Begin(store, new ShardOptions()));
        // Up to where it drives with the load, received five hours later.
        var driven = _messages.Where(m => m.Received < _messages[0].Received!.Value.Plus(12 * 60)).Select(m => m with { Received = m.Received!.Value.Plus(5 * 3600) }).ToList();
        run.Configure(driven[0].Received!.Value);
        foreach (var some in driven.Chunk(20)) run.Append(some);
        Assert.DoesNotContain(store.Told, c => c.Rings);
        var silent = run.Now;
        for (var second = 1; second <= 300; second += 10) run.Pass(silent.Plus(second));
        var called = store.Told.First(c => c.Rings && c.Cause == "holds_still");
        Assert.Matches("(Lower axle|Take off|move the load|Raise)", called.Sentence);
    }

    private static List<AlertChangeDocument> Told(ImmutableArray<RecordedMessage> messages, ImmutableArray<RecordedMessage> late, out long corrected)
    {
        var store = new TellingStore();
        var run = new ShardRun(Shard.Begin(store, new ShardOptions()));
        run.Configure(messages[0].Received!.Value);
        foreach (var some in messages.Chunk(20)) run.Append(some);
        // Nothing is waited for any more, so that what comes now is late.
        if (run.Shard.Flush(run.Now)) run.Write();
        foreach (var some in late.Chunk(20)) run.Append(some);
        run.End();
        corrected = run.Shard.Corrected;
        return store.Told;
    }
}
