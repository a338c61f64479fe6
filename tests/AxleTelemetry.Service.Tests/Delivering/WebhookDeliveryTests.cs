using System.Collections.Immutable;
using System.Text.Json;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Service.Tests.Http;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Service.Tests.Sharding;
using AxleTelemetry.Storage.Delivering;
using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Rows;
using Microsoft.Extensions.Time.Testing;

namespace AxleTelemetry.Service.Tests.Delivering;

/// <summary>Webhooks as a receiver sees them: what the journal holds is what came, once for each id, through outages and crashes.</summary>
public sealed class WebhookDeliveryTests : IDisposable
{
    private readonly Premise _premise = new();
    private readonly FakeTimeProvider _clock = new(DateTimeOffset.FromUnixTimeMilliseconds(Told.Since.UnixMilliseconds).AddDays(1));

    public void Dispose() => _premise.Dispose();

    [Theory]
    [InlineData(3)]
    [InlineData(7)]
    public async Task What_came_is_what_the_journal_tells_through_outages_and_crashes(int seed)
    {
        var recording = RandomFleet.Recording((ulong)seed);
        var random = new Random(seed);
        // Of ten posts some are refused for now, some cut off, and some taken by a receiver whose answer never arrives.
        await using var receiver = await WebhookReceiver.StartAsync(_ =>
        {
            lock (random) return random.Next(10) switch { 0 => 500, 1 => 429, 2 => 0, _ => 204 };
        });
        var expected = new List<string>();
        var parts = recording.Chunk((recording.Length / 4) + 1).ToArray();
        foreach (var part in parts) expected = await RunAsync(receiver, [.. part], recording[^1].Received!.Value, drained: part == parts[^1]);
        Assert.True(expected.Count >= 10, $"{expected.Count} changes");
        Assert.Equal(expected.Order(StringComparer.Ordinal), receiver.Taken.Select(p => p.Id).Distinct().Order(StringComparer.Ordinal));
        Assert.All(receiver.Posts, p => Assert.True(p.IsSigned, p.Id));
        // Whatever comes under an id again is the same.
        Assert.All(receiver.Posts.GroupBy(p => p.Id), g => Assert.Single(g.Select(p => p.Body).Distinct()));
        Assert.Contains(receiver.Posts, p => p.Answer == 500);
        Assert.Contains(receiver.Posts, p => p.Answer == 429);
    }

    [Fact]
    public async Task Killed_between_sending_and_marking_it_comes_again_under_the_same_id_and_no_other_does()
    {
        var came = new TaskCompletionSource();
        var stopped = new TaskCompletionSource();
        await using var receiver = await WebhookReceiver.StartAsync(_ =>
        {
            // It has the message, and the sender dies before it hears of it.
            if (came.TrySetResult()) stopped.Task.Wait(TimeSpan.FromSeconds(30), CancellationToken.None);
            return 204;
        });
        await using (var before = _premise.Open(Premise.Hook(receiver.Url), _clock))
        {
            Add("one", "two");
            before.Start();
            await came.Task.WaitAsync(TimeSpan.FromSeconds(30), TestContext.Current.CancellationToken);
        }

        stopped.SetResult();
        await using var after = _premise.Open(Premise.Hook(receiver.Url), _clock);
        after.Start();
        await Premise.Until(_clock, () => after.States().Single().Tally.Delivered == 2, () => $"both {Standing()}");
        Assert.Equal(["one", "one", "two"], receiver.Posts.Select(p => p.Id));
        Assert.Equal(receiver.Posts[0].Body, receiver.Posts[1].Body);
    }

    [Theory]
    [InlineData(400)]
    [InlineData(410)]
    [InlineData(422)]
    [InlineData(302)]
    public async Task What_is_refused_for_good_is_put_aside_at_once_and_holds_up_nobody(int status)
    {
        await using var receiver = await WebhookReceiver.StartAsync(p => p.Id == "bad" ? status : 204);
        await using var deliveries = _premise.Open(Premise.Hook(receiver.Url), _clock);
        Add("bad", "good");
        deliveries.Start();
        // It has it before that is written down here.
        await Premise.Until(_clock, () => receiver.Taken.Length == 1 && deliveries.States().Single().Tally.Delivered == 1, () => $"the good one {Standing()}");
        Assert.Equal(["bad", "good"], receiver.Posts.Select(p => p.Id));
        Assert.All(receiver.Posts, p => Assert.Equal("/alerts", p.Path));
        var dead = Assert.Single(deliveries.In(ParcelState.Dead, null, long.MaxValue, 10));
        Assert.Equal(("bad", "office"), (dead.Message, dead.Recipient));
        Assert.Contains($"{status}", dead.Trouble, StringComparison.Ordinal);
        Assert.Equal((1, 1), (deliveries.States().Single().Dead, deliveries.States().Single().Tally.Delivered));
        Assert.Contains("office", Assert.Single(DeliveryReasons.Of(deliveries)).Sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(401)]
    [InlineData(404)]
    public async Task A_receiver_that_is_being_moved_costs_nothing_but_time(int status)
    {
        var tries = 0;
        await using var receiver = await WebhookReceiver.StartAsync(_ => Interlocked.Increment(ref tries) < 3 ? status : 204);
        await using var deliveries = _premise.Open(Premise.Hook(receiver.Url), _clock);
        Add("one");
        deliveries.Start();
        await Premise.Until(_clock, () => deliveries.States().Single().Tally.Delivered == 1, () => $"delivered {Standing()}");
        Assert.Equal(["one", "one", "one"], receiver.Posts.Select(p => p.Id));
        Assert.Equal(0, deliveries.States().Single().Dead);
    }

    [Fact]
    public async Task What_is_away_for_longer_than_stated_is_put_aside_and_can_be_sent_again()
    {
        var isBack = false;
        await using var receiver = await WebhookReceiver.StartAsync(_ => isBack ? 204 : 503);
        await using var deliveries = _premise.Open(Premise.Hook(receiver.Url).Replace("\"secret_file\"", "\"give_up_after_min\": 60, \"secret_file\"", StringComparison.Ordinal), _clock);
        Add("late");
        deliveries.Start();
        await Premise.Until(_clock, () => deliveries.States().Single().Dead == 1, () => $"given up {Standing()}", seconds: 10);
        var dead = Assert.Single(deliveries.In(ParcelState.Dead, "office", long.MaxValue, 10));
        Assert.InRange(dead.Ended!.Value.SecondsSince(dead.Queued), 3600, 3600 + (3 * 900));
        // With pauses that double a receiver that is down for an hour is not hammered.
        Assert.InRange(receiver.Posts.Length, 6, 60);
        isBack = true;
        Assert.IsType<SendingAgain.NotGivenUp>(deliveries.SendAgain(dead.Number + 1));
        Assert.IsType<SendingAgain.Waits>(deliveries.SendAgain(dead.Number));
        await Premise.Until(_clock, () => receiver.Taken.Length == 1, () => $"sent again {Standing()}");
        Assert.Equal("late", receiver.Taken[0].Id);
        Assert.Equal(0, deliveries.States().Single().Dead);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Who_asks_for_a_pause_is_sent_nothing_else_before_its_end_also_after_a_restart(bool restarted)
    {
        var tries = 0;
        // The receiver asks for 7 s.
        await using var receiver = await WebhookReceiver.StartAsync(_ => Interlocked.Increment(ref tries) == 1 ? 429 : 204);
        var deliveries = _premise.Open(Premise.Hook(receiver.Url), _clock);
        Add("one", "two", "three");
        deliveries.Start();
        await Eventually.Holds(() => Held() is not null, () => $"held {Standing()}");
        if (restarted)
        {
            await deliveries.DisposeAsync();
            deliveries = _premise.Open(Premise.Hook(receiver.Url), _clock);
            deliveries.Start();
        }

        await Premise.Until(_clock, () => deliveries.States().Single().Tally.Delivered == 3, () => $"all {Standing()}");
        await deliveries.DisposeAsync();
        var seconds = receiver.Posts.Select(p => long.Parse(p.Timestamp, System.Globalization.CultureInfo.InvariantCulture)).ToArray();
        Assert.Equal(4, seconds.Length);
        Assert.All(seconds[1..], s => Assert.True(s - seconds[0] >= 7, $"{s - seconds[0]} s"));
    }

    [Fact]
    public void A_pause_that_is_asked_for_is_granted_up_to_an_hour()
    {
        Assert.Equal(TimeSpan.FromMinutes(40), RetryTimes.After(1, 1, TimeSpan.FromMinutes(40)));
        Assert.Equal(TimeSpan.FromHours(1), RetryTimes.After(1, 1, TimeSpan.FromDays(3)));
        Assert.Equal(TimeSpan.FromSeconds(5), RetryTimes.After(1, 1, TimeSpan.FromSeconds(1)));
        Assert.Equal(TimeSpan.FromMinutes(15), RetryTimes.After(30, 1, null));
    }

    [Fact]
    public async Task One_that_is_away_blocks_nobody_else()
    {
        await using var gone = await WebhookReceiver.StartAsync(_ => 503);
        await using var there = await WebhookReceiver.StartAsync();
        var hook = (string url) => $$"""{ "webhook": { "url": "{{url}}", "secret_file": "hook.secret" } }""";
        await using var deliveries = _premise.Open($$"""{ "recipients": { "gone": {{hook(gone.Url)}}, "there": {{hook(there.Url)}} }, "routes": [{ "to": ["gone", "there"] }] }""", _clock);
        using (var file = DeliveryFile.Open(_premise.Data))
            foreach (var to in new[] { "gone", "there" }) file.InOneStep(book => Enumerable.Range(0, 20).Count(i => book.Add(Parcel($"m{i}", to))));
        deliveries.Start();
        await Eventually.Holds(() => there.Taken.Length == 20, () => $"{there.Taken.Length}");
        Assert.Equal(20, deliveries.States().Single(s => s.Recipient == "gone").Waiting);
    }

    [Fact]
    public async Task A_body_says_what_changed_with_the_caution()
    {
        await using var receiver = await WebhookReceiver.StartAsync();
        await using var deliveries = _premise.Open(Premise.Hook(receiver.Url), _clock);
        Add("one");
        deliveries.Start();
        await Premise.Until(_clock, () => receiver.Taken.Length == 1, () => $"one {Standing()}");
        using var body = JsonDocument.Parse(receiver.Taken[0].Body);
        Assert.Equal(("one", "alert.changed", "en"), (Text(body, "id"), Text(body, "type"), Text(body, "language")));
        Assert.Equal("Axle 2 (drive): 12.4 t, give or take 0.5 t; 0.9 t over 11.5 t (sure).", body.RootElement.GetProperty("data").GetProperty("sentence").GetString());
        Assert.Contains("not a certified weighing", Text(body, "caution"), StringComparison.Ordinal);
    }

    private string Standing()
    {
        using var file = DeliveryFile.Open(_premise.Data);
        return $"{_clock.GetUtcNow():O} " + string.Join(", ", file.InOneStep(book => book.In(ParcelState.Waiting, null, long.MaxValue, 10)).Select(p => $"{p.Number}: {p.Attempts} tried, due {p.Due}, {p.Trouble}"));
    }

    private Moment? Held()
    {
        using var file = DeliveryFile.Open(_premise.Data);
        return file.InOneStep(book => book.HeldUntil("office"));
    }

    private static string Text(JsonDocument body, string name) => body.RootElement.GetProperty(name).GetString()!;

    private void Add(params string[] messages)
    {
        using var file = DeliveryFile.Open(_premise.Data);
        foreach (var message in messages) file.InOneStep(book => book.Add(Parcel(message, "office")));
    }

    private NewParcel Parcel(string message, string to) => new(message, to, Told.Id, ParcelKind.Change) { IsUrgent = false, At = _clock.Now(), Bytes = Told.Bytes() };

    /// <summary>A run of a shard with its deliveries that ends as by a crash, unless everything is to be told. Gives the ids of all changes in the journal by then.</summary>
    private async Task<List<string>> RunAsync(WebhookReceiver receiver, ImmutableArray<RecordedMessage> messages, Moment now, bool drained)
    {
        var clock = new ShiftedClock(DateTimeOffset.FromUnixTimeMilliseconds(now.UnixMilliseconds).AddSeconds(30));
        var opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(_premise.Data, "main", new JournalOptions { ReserveBytes = 0 }, new ShardOptions()));
        using var shard = new RunningShard(new ShardSettings("main", ["north"]), opened, new Bounds(), new Surroundings { Clock = clock });
        var deliveries = _premise.Open(Premise.Hook(receiver.Url), _clock);
        deliveries.Follow(shard.Desk);
        deliveries.Start();
        shard.Loop.Add(new ShardJob.Configure(RandomFleet.Configuration));
        shard.Loop.Start();
        foreach (var message in messages) Assert.True(shard.Intake.TryTake(ShardRun.Of(message)));
        var seen = receiver.Posts.Length;
        // Stopped in the middle of what is to be told, unless it is the last run.
        await Premise.Until(_clock, () => (!drained && receiver.Posts.Length > seen + 3) || (shard.Desk.Health is { IsSettled: true, ToBeCorrected: 0 } && IsAllTaken(receiver, shard.Desk)), () => $"all taken {Standing()}");
        await deliveries.DisposeAsync();
        var all = Ids(shard.Desk);
        await shard.StopAsync();
        return all;
    }

    private static bool IsAllTaken(WebhookReceiver receiver, ShardDesk desk) => Ids(desk).ToHashSet(StringComparer.Ordinal).SetEquals(receiver.Taken.Select(p => p.Id));

    /// <summary>What the journal tells, put together from the journal alone.</summary>
    private static List<string> Ids(ShardDesk desk) =>
        // That it was reached itself is not told to it.
        [.. desk.Read(r => r.Told(Position.Start, 100_000)).Select(t => AlertChangeJson.Read(t.Row.Bytes.AsSpan())!).Where(c => c.Contact is null).Select(c => MessageId.OfChange("main", c.Id, c.Number))];
}
