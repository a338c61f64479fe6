using AxleTelemetry.Service.Delivering;
using Microsoft.Extensions.Time.Testing;

namespace AxleTelemetry.Service.Tests.Delivering;

public sealed class BellTests
{
    private static readonly TimeSpan Long = TimeSpan.FromHours(1);
    private readonly FakeTimeProvider _clock = new();

    [Fact]
    public async Task Rest_ends_when_it_rings_when_it_rang_before_and_when_its_time_is_over()
    {
        var bell = new Bell(_clock);
        var rest = bell.RestAsync(Long, TestContext.Current.CancellationToken);
        Assert.False(rest.IsCompleted);
        bell.Ring();
        await rest;
        // Each ring ends one rest, however often it rang.
        bell.Ring();
        bell.Ring();
        await bell.RestAsync(Long, TestContext.Current.CancellationToken);
        rest = bell.RestAsync(Long, TestContext.Current.CancellationToken);
        Assert.False(rest.IsCompleted);
        _clock.Advance(Long);
        await rest;
    }

    [Fact]
    public async Task Told_to_stop_nobody_rests()
    {
        var bell = new Bell(_clock);
        using var stop = new CancellationTokenSource();
        var rest = bell.RestAsync(Long, stop.Token);
        await stop.CancelAsync();
        await rest;
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => bell.RestAsync(Long, stop.Token));
    }
}
