using AxleTelemetry.Service.Sharding;
using Microsoft.Extensions.Time.Testing;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>Following a shard step after step.</summary>
public sealed class FollowingTests
{
    private readonly FakeTimeProvider _clock = new();

    [Fact]
    public async Task A_step_that_fails_is_said_and_tried_again_after_a_pause()
    {
        var following = new Following(_clock);
        using var stop = new CancellationTokenSource();
        var (steps, failed, done) = (0, new TaskCompletionSource(), new TaskCompletionSource());
        var running = following.RunAsync(async token =>
        {
            if (++steps == 1) throw new IOException("the page cannot be read");
            done.TrySetResult();
            await Task.Delay(Timeout.Infinite, token);
        }, stop.Token);
        await Crashing.Eventually.Holds(() => following.Trouble == "the page cannot be read", () => $"{steps} {following.Trouble}");
        Assert.Equal(1, steps);
        await Crashing.Eventually.Holds(() =>
        {
            _clock.Advance(TimeSpan.FromSeconds(1));
            return done.Task.IsCompleted;
        }, () => $"{steps} {following.Trouble}");
        Assert.Equal(2, steps);
        await stop.CancelAsync();
        await running;
    }

    [Fact]
    public async Task It_is_well_again_once_a_step_is_done()
    {
        var following = new Following(_clock);
        using var stop = new CancellationTokenSource();
        var steps = 0;
        var running = following.RunAsync(_ => ++steps switch
        {
            1 => throw new IOException("once"),
            < 4 => Task.CompletedTask,
            _ => stop.CancelAsync(),
        }, stop.Token);
        await Crashing.Eventually.Holds(() =>
        {
            _clock.Advance(TimeSpan.FromSeconds(1));
            return running.IsCompleted;
        }, () => $"{steps} {following.Trouble}");
        Assert.Null(following.Trouble);
    }

    [Fact]
    public async Task A_shard_that_has_ended_ends_it_and_is_said()
    {
        var following = new Following(_clock);
        await following.RunAsync(_ => throw new ShardNotRunningException("main", "another owns it"), TestContext.Current.CancellationToken);
        Assert.Contains("another owns it", following.Trouble, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Told_to_stop_it_ends_also_while_it_waits()
    {
        var following = new Following(_clock);
        using var stop = new CancellationTokenSource();
        var running = following.RunAsync(_ => throw new IOException("always"), stop.Token);
        await Crashing.Eventually.Holds(() => following.Trouble is not null, () => "trouble");
        await stop.CancelAsync();
        await running;
    }
}
