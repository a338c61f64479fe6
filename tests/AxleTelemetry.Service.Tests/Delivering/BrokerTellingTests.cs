using System.Collections.Concurrent;
using System.Text.Json;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Service.Tests.Http;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Service.Tests.Sharding;
using AxleTelemetry.Service.Tests.Watching;
using AxleTelemetry.Storage.Delivering;
using AxleTelemetry.Storage.Opening;
using Microsoft.Extensions.Time.Testing;

namespace AxleTelemetry.Service.Tests.Delivering;

/// <summary>Alerts and advice as a client of a real broker sees them.</summary>
public sealed class BrokerTellingTests : IDisposable
{
    private const string Alerts = """{ "mqtt": { "alerts": true } }""", Advice = """{ "mqtt": { "advice": true } }""";

    private readonly Premise _premise = new();

    public void Dispose() => _premise.Dispose();

    [Fact]
    public async Task Each_change_comes_once_on_the_topic_of_its_fleet_also_when_the_broker_was_away()
    {
        Mosquitto.SkipUnlessInstalled();
        await using var broker = new Mosquitto("log_type subscribe", "log_type notice", "log_type information", "log_type error");
        using var publisher = Publisher(broker);
        await using var deliveries = _premise.Open(Alerts, TimeProvider.System);
        deliveries.Publish(Desk(), publisher);
        Add("axle_1", "axle_2");
        deliveries.Start();
        await Eventually.Holds(() => deliveries.States().Single() is { Trouble: not null, Waiting: 2 }, () => $"{deliveries.States().Single()}");
        await broker.Start();
        await using var listener = await Listen(broker, "axles/v1/+/alerts");
        await Eventually.Holds(() => deliveries.States().Single().Tally.Delivered == 2, () => $"{deliveries.States().Single()}");
        await listener.Output.Until("axle_2");
        Assert.Equal(["1 0 axles/v1/north/alerts axle_1", "1 0 axles/v1/north/alerts axle_2"], listener.Output.All.Select(Short).Order(StringComparer.Ordinal));
        Add("axle_3");
        await listener.Output.Until("axle_3");
        Assert.Contains("12.4 t", listener.Output.All[2], StringComparison.Ordinal);
    }

    [Fact]
    public async Task Advice_is_retained_with_an_end_goes_on_while_it_holds_and_is_withdrawn()
    {
        Mosquitto.SkipUnlessInstalled();
        await using var broker = new Mosquitto("log_type subscribe", "log_type notice", "log_type information", "log_type error");
        await broker.Start();
        using var publisher = Publisher(broker);
        await using var listener = await Listen(broker, "axles/v1/north/+/advice");
        var messages = RaisedHaul.UpToAdvice;
        var clock = new ShiftedClock(DateTimeOffset.FromUnixTimeMilliseconds(messages[^1].Received!.Value.UnixMilliseconds));
        var opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(_premise.Data, "main", new JournalOptions { ReserveBytes = 0 }, new ShardOptions()));
        using var shard = new RunningShard(new ShardSettings("main", ["north"]), opened, new Bounds(), new Surroundings { Clock = clock });
        await using (var deliveries = _premise.Open(Advice, clock))
        {
            deliveries.Follow(shard.Desk);
            Assert.NotNull(deliveries.Publish(shard.Desk, publisher));
            shard.Loop.Add(new ShardJob.Configure(RandomFleet.Configuration));
            shard.Loop.Start();
            deliveries.Start();
            foreach (var message in messages) Assert.True(shard.Intake.TryTake(ShardRun.Of(message)));
            await listener.Output.Until("\"lower\":[{\"vehicle\":\"RT-01\",\"axle\":\"tag\"}]");
            // Whoever comes later is given it too, with what is left of its two minutes.
            await using var later = await Listen(broker, "axles/v1/north/RT-01/advice");
            await later.Output.Until("\"lower\"");
            Assert.StartsWith("1 1 axles/v1/north/RT-01/advice ", later.Output.All[0], StringComparison.Ordinal);
            using var given = JsonDocument.Parse(later.Output.All[0].Split(' ', 4)[3]);
            Assert.Equal("raised", given.RootElement.GetProperty("configuration")[0].GetProperty("state").GetString());
            Assert.Empty(given.RootElement.GetProperty("raise").EnumerateArray());
            Assert.Equal(120.0, (given.RootElement.GetProperty("until").GetDateTime() - given.RootElement.GetProperty("t").GetDateTime()).TotalSeconds);
            // The driver lowers it: what was advised does not hold any more.
            var now = Codes.At(clock.GetUtcNow());
            var lowered = $$"""{"samples":[{"t":{{messages[^1].Received!.Value.UnixMilliseconds + 100}},"axles":{"tag":"lowered"} }]}""";
            Assert.True(shard.Intake.TryTake(ShardRun.Of(new RecordedMessage("axles/v1/north/RT-01/lift", System.Text.Encoding.UTF8.GetBytes(lowered)) { Received = now })));
            await Eventually.Holds(() => listener.Output.All.SkipWhile(l => !l.Contains("\"lower\"", StringComparison.Ordinal)).Any(l => l.TrimEnd() == "1 0 axles/v1/north/RT-01/advice"), () => string.Join('\n', listener.Output.All));
        }

        await shard.StopAsync();
        await using var after = await Listen(broker, "axles/v1/north/RT-01/advice", times: 2);
        await Publish(publisher, "axles/v1/north/RT-01/advice", "end");
        await after.Output.Until("end");
        Assert.Single(after.Output.All);
    }

    [Fact]
    public async Task Stopped_it_withdraws_what_it_gave()
    {
        Mosquitto.SkipUnlessInstalled();
        await using var broker = new Mosquitto("log_type subscribe", "log_type notice", "log_type information", "log_type error");
        await broker.Start();
        using var publisher = Publisher(broker);
        await using var listener = await Listen(broker, "axles/v1/north/+/advice");
        var messages = RaisedHaul.UpToAdvice;
        var clock = new ShiftedClock(DateTimeOffset.FromUnixTimeMilliseconds(messages[^1].Received!.Value.UnixMilliseconds));
        var opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(_premise.Data, "main", new JournalOptions { ReserveBytes = 0 }, new ShardOptions()));
        using var shard = new RunningShard(new ShardSettings("main", ["north"]), opened, new Bounds(), new Surroundings { Clock = clock });
        await using (var deliveries = _premise.Open(Advice, clock))
        {
            deliveries.Publish(shard.Desk, publisher);
            shard.Loop.Add(new ShardJob.Configure(RandomFleet.Configuration));
            shard.Loop.Start();
            deliveries.Start();
            foreach (var message in messages) Assert.True(shard.Intake.TryTake(ShardRun.Of(message)));
            await listener.Output.Until("\"lower\"");
        }

        await Eventually.Holds(() => listener.Output.All[^1].TrimEnd() == "1 0 axles/v1/north/RT-01/advice", () => string.Join('\n', listener.Output.All));
        await shard.StopAsync();
    }

    [Fact]
    public async Task Over_a_broker_that_takes_its_time_nothing_old_is_given_and_what_a_killed_run_left_is_withdrawn()
    {
        var messages = RaisedHaul.UpToAdvice;
        var at = DateTimeOffset.FromUnixTimeMilliseconds(messages[^1].Received!.Value.UnixMilliseconds);
        var opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(_premise.Data, "main", new JournalOptions { ReserveBytes = 0 }, new ShardOptions()));
        using var shard = new RunningShard(new ShardSettings("main", ["north"]), opened, new Bounds(), new Surroundings { Clock = new ShiftedClock(at) });
        shard.Loop.Add(new ShardJob.Configure(RandomFleet.Configuration));
        shard.Loop.Start();
        foreach (var message in messages) Assert.True(shard.Intake.TryTake(ShardRun.Of(message)));
        using var deadline = new CancellationTokenSource(TimeSpan.FromSeconds(60));
        while ((await shard.Desk.AskAsync(s => s.Advices(Codes.At(at)), deadline.Token)).IsEmpty) deadline.Token.ThrowIfCancellationRequested();
        var clock = new FakeTimeProvider(at);
        var broker = new SlowBroker(clock);
        using var stop = new CancellationTokenSource();
        var telling = new AdviceTelling(shard.Desk, broker, clock).RunAsync(stop.Token);
        await Premise.Until(clock, () => broker.Ages.Any(), () => string.Join(' ', broker.Withdrawn));
        Assert.All(broker.Ages, age => Assert.InRange(age, 0, 4.9));
        Assert.Contains("axles/v1/north/RP-02/advice", broker.Withdrawn);
        await stop.CancelAsync();
        await telling;
        await shard.StopAsync();
    }

    /// <summary>A broker that answers each message after five seconds.</summary>
    private sealed class SlowBroker(FakeTimeProvider clock) : IPublisher
    {
        public ConcurrentQueue<string> Withdrawn { get; } = [];

        /// <summary>How old advice was when it came, s.</summary>
        public ConcurrentQueue<double> Ages { get; } = [];

        public Task<Handing> PublishAsync(Publication publication, CancellationToken cancel)
        {
            if (publication.Payload.IsEmpty) Withdrawn.Enqueue(publication.Topic);
            else
            {
                using var given = JsonDocument.Parse(publication.Payload);
                Ages.Enqueue((clock.GetUtcNow() - given.RootElement.GetProperty("t").GetDateTimeOffset()).TotalSeconds);
            }

            clock.Advance(TimeSpan.FromSeconds(5));
            return Task.FromResult<Handing>(new Handing.Taken());
        }
    }

    private static BrokerPublisher Publisher(Mosquitto broker) => new(new BrokerOptions { Host = "127.0.0.1", Port = broker.Port, ClientId = "axletelemetry-main" }, TimeProvider.System);

    private static async Task Publish(BrokerPublisher publisher, string topic, string text) =>
        Assert.IsType<Handing.Taken>(await publisher.PublishAsync(new Publication(topic, System.Text.Encoding.UTF8.GetBytes(text)), TestContext.Current.CancellationToken));

    /// <summary>A listener as anybody may run one; each line is quality of service, retained, topic, payload.</summary>
    private static async Task<RunningProgram> Listen(Mosquitto broker, string topic, int times = 1)
    {
        var listener = RunningProgram.Start("/usr/bin/mosquitto_sub", "-V", "5", "-q", "1", "-p", FormattableString.Invariant($"{broker.Port}"), "-t", topic, "-F", "%q %r %t %p");
        // Its subscription is in the log of the broker.
        await broker.UntilLogged(topic, times);
        return listener;
    }

    private static string Short(string line)
    {
        var parts = line.Split(' ', 4);
        using var body = JsonDocument.Parse(parts[3]);
        return $"{parts[0]} {parts[1]} {parts[2]} {body.RootElement.GetProperty("id").GetString()}";
    }

    private static ShardDesk Desk() => new("main", ["north"], null!, () => throw new InvalidOperationException("Nobody reads."));

    private void Add(params string[] messages)
    {
        using var file = DeliveryFile.Open(_premise.Data);
        foreach (var message in messages)
            file.InOneStep(book => book.Add(new NewParcel(message, "mqtt:main", Told.Id, ParcelKind.Change) { IsUrgent = false, At = TimeProvider.System.Now(), Bytes = Told.Bytes() }));
    }
}
