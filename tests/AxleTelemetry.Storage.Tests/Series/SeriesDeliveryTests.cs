using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Series;
using Microsoft.Extensions.Time.Testing;

namespace AxleTelemetry.Storage.Tests.Series;

/// <summary>What happens when the database is away, slow to take all, or refuses a part; time is set on by hand.</summary>
public sealed class SeriesDeliveryTests
{
    private static readonly ImmutableArray<SeriesPoint> Ten = [.. Enumerable.Range(0, 10).Select(Point)];
    private readonly FakeTimeProvider _clock = new();
    private readonly List<int> _sent = [];

    [Fact]
    public async Task A_database_that_is_away_for_a_day_gets_everything_once_it_is_back()
    {
        var back = _clock.GetUtcNow().AddDays(1);
        var delivery = Delivery(_ => _clock.GetUtcNow() < back ? new SendOutcome.Unavailable("connection refused", null) : new SendOutcome.Taken());
        var done = delivery.DeliverAsync(Ten, TestContext.Current.CancellationToken);
        Assert.False(done.IsCompleted);
        Assert.Equal("connection refused", delivery.Trouble);
        for (var minutes = 0; minutes < 25 * 60 && !done.IsCompleted; minutes++) await NextAsync(done);
        await done;
        Assert.Equal((10, (string?)null), (delivery.Written, delivery.Trouble));
        // A try a minute at most, and fewer while the circuit is open: 5 s pauses would be 17 000.
        Assert.InRange(_sent.Count, 100, 3_000);
    }

    [Fact]
    public async Task It_waits_as_long_as_the_database_asks()
    {
        var began = _clock.GetUtcNow();
        var delivery = Delivery(_ => _clock.GetUtcNow() < began.AddSeconds(90) ? new SendOutcome.Unavailable("429", TimeSpan.FromSeconds(90)) : new SendOutcome.Taken());
        var done = delivery.DeliverAsync(Ten, TestContext.Current.CancellationToken);
        _clock.Advance(TimeSpan.FromSeconds(89));
        Assert.False(done.IsCompleted);
        _clock.Advance(TimeSpan.FromSeconds(2));
        await done;
        Assert.Equal(2, _sent.Count);
    }

    [Fact]
    public async Task A_pause_without_end_is_granted_for_an_hour()
    {
        var delivery = Delivery(_ => _sent.Count == 1 ? new SendOutcome.Unavailable("429", TimeSpan.FromSeconds(int.MaxValue)) : new SendOutcome.Taken());
        var done = delivery.DeliverAsync(Ten, TestContext.Current.CancellationToken);
        _clock.Advance(TimeSpan.FromMinutes(59));
        Assert.Equal((1, false), (_sent.Count, done.IsCompleted));
        _clock.Advance(TimeSpan.FromMinutes(1));
        await done;
    }

    [Fact]
    public async Task Points_that_are_refused_are_counted_with_their_reason_and_the_rest_gets_there()
    {
        var there = new HashSet<Moment>();
        var delivery = Delivery(points =>
        {
            foreach (var point in points.Where(p => !IsBad(p))) there.Add(point.Identity.At);
            return points.Any(IsBad) ? new SendOutcome.Refused("field type conflict") : new SendOutcome.Taken();
        });
        await delivery.DeliverAsync(Ten, TestContext.Current.CancellationToken);
        Assert.Equal(8, there.Count);
        Assert.Equal(new KeyValuePair<string, long>("field type conflict", 2), Assert.Single(delivery.Refused));
        Assert.Equal(8, delivery.Written);
    }

    [Fact]
    public async Task What_is_too_large_goes_in_parts()
    {
        var delivery = Delivery(points => points.Length > 3 ? new SendOutcome.TooLarge() : new SendOutcome.Taken());
        await delivery.DeliverAsync(Ten, TestContext.Current.CancellationToken);
        Assert.Equal((10, true), (delivery.Written, delivery.Refused.IsEmpty));
    }

    [Fact]
    public async Task It_lets_go_when_it_is_told_to()
    {
        using var stop = new CancellationTokenSource();
        var done = Delivery(_ => new SendOutcome.Unavailable("down", null)).DeliverAsync(Ten, stop.Token);
        await stop.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => done);
    }

    // Whoever waits on the clock runs on after it was set on: the next step must not come before.
    private async Task NextAsync(Task done)
    {
        var before = _sent.Count;
        _clock.Advance(TimeSpan.FromMinutes(1));
        for (var i = 0; i < 100 && _sent.Count == before && !done.IsCompleted; i++) await Task.Yield();
    }

    private SeriesDelivery Delivery(Func<ImmutableArray<SeriesPoint>, SendOutcome> send) => new((points, _) =>
    {
        _sent.Add(points.Length);
        return Task.FromResult(send(points));
    }, _clock);

    private static bool IsBad(SeriesPoint point) => point.Identity.At.UnixMilliseconds is 3 or 8;

    private static SeriesPoint Point(int i) => new(new PointIdentity("m", [("a", "b")], new Moment(i)), [("x", new FieldValue.Number(i))]);
}
