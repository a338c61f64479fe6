using System.Globalization;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Service.Tests.Receiving;

/// <summary>Against a real broker: what it sends again shows what was not acknowledged.</summary>
public class BrokerReceiverTests
{
    private static readonly string[] Ten = [.. Enumerable.Range(1, 10).Select(i => $"message {i}")];

    [Fact]
    public async Task Nothing_is_acknowledged_before_its_commit_and_all_after()
    {
        await using var broker = await Started("log_type all");
        await using (var first = new Station().Run(Station.At(broker.Port)))
        {
            await first.UntilTold<ReceiverNotice.Connected>();
            await broker.Publish("axles/v1/example/RT-01/frame", Ten);
            Assert.Equal(Ten, Station.Texts(await first.Take(10)));
        }

        await using (var second = new Station().Run(Station.At(broker.Port)))
        {
            var again = await second.Take(10);
            Assert.Equal(Ten, Station.Texts(again));
            Assert.Equal(10, second.Trace.Redelivered);
            await second.UntilTold<ReceiverNotice.Connected>();
            second.Commit(again);
            Assert.Equal(10, second.Trace.Acknowledged);
        }

        // It reads one packet of a connection at a time, and none once the next connection of the client is there.
        await broker.UntilLogged("Client station disconnected", 2);
        await using var third = new Station().Run(Station.At(broker.Port));
        await third.UntilTold<ReceiverNotice.Connected>();
        await broker.Publish("axles/v1/example/RT-01/frame", "last");
        Assert.Equal(["last"], Station.Texts(await third.Take(1)));
        Assert.Equal(0, third.Trace.Redelivered);
    }

    [Fact]
    public async Task Our_own_advice_does_not_come_back_and_quality_0_is_taken_and_counted()
    {
        await using var broker = await Started();
        await using var station = new Station().Run(Station.At(broker.Port));
        await station.UntilTold<ReceiverNotice.Connected>();
        await using var device = await Device.At(broker.Port);
        await device.Send("advice", "axles/v1/example/RT-01/advice");
        await device.Send("alerts", "axles/v1/example/alerts");
        await device.Send("loose", quality: 0);
        await device.Send("firm");
        Assert.Equal(["loose", "firm"], Station.Texts(await station.Take(2)));
        Assert.Equal(1, station.Trace.AtMostOnce);
    }

    [Fact]
    public async Task A_broker_killed_and_started_again_is_found_again_and_late_acknowledgements_are_dropped()
    {
        Mosquitto.SkipUnlessInstalled();
        await using var broker = new Mosquitto("persistence true", "autosave_on_changes true", "autosave_interval 1");
        await broker.Start();
        await using var station = new Station().Run(Station.At(broker.Port));
        await station.UntilTold<ReceiverNotice.Connected>();
        await broker.Publish("axles/v1/example/RT-01/frame", Ten);
        var taken = await station.Take(10);
        await broker.Kill();
        await station.UntilTold<ReceiverNotice.Troubled>();
        station.Commit(taken);
        Assert.Equal(10, station.Trace.AcknowledgementsDropped);
        await broker.Start();
        await station.UntilTold<ReceiverNotice.Connected>(2);
        await broker.Publish("axles/v1/example/RT-01/frame", "after");
        var more = new List<IntakeBatch>();
        while (!Station.Texts(more).Contains("after")) more.AddRange(await station.Take(1));
        station.Commit(more);
        Assert.Equal(more.Sum(batch => batch.Messages.Length), station.Trace.Acknowledged);
    }

    [Fact]
    public async Task A_broker_that_forgot_the_session_is_noticed_and_counted()
    {
        await using var broker = await Started();
        await using var station = new Station().Run(Station.At(broker.Port));
        await station.UntilTold<ReceiverNotice.Connected>();
        await broker.Kill();
        await station.UntilTold<ReceiverNotice.Troubled>();
        await broker.Start();
        await station.UntilTold<ReceiverNotice.Connected>(2);
        Assert.Equal([false, true], station.Told<ReceiverNotice.Connected>().Select(told => told.Forgotten));
        Assert.Equal(1, station.Trace.SessionsForgotten);
        await broker.Publish("axles/v1/example/RT-01/frame", "still subscribed");
        Assert.Equal(["still subscribed"], Station.Texts(await station.Take(1)));
    }

    [Fact]
    public async Task Without_commits_it_holds_no_more_than_its_bound_leaves_and_comes_back_for_the_rest()
    {
        const int Bound = 256 * 1024, Messages = 1500;
        await using var broker = await Started();
        await using var station = new Station(new IntakeOptions { MostBytes = Bound, BatchMessages = 50 }).Run(Station.At(broker.Port));
        await station.UntilTold<ReceiverNotice.Connected>();
        var sent = Enumerable.Range(0, Messages).Select(i => i.ToString("D1000", CultureInfo.InvariantCulture)).ToArray();
        await broker.Publish("axles/v1/example/RT-01/frame", sent);
        await station.UntilTold<ReceiverNotice.Holding>();
        Assert.IsType<IntakeState.Full>(station.Intake.State);
        Assert.InRange(station.Intake.HeldBytes, Bound / 2, Bound);

        var distinct = new HashSet<string>();
        while (distinct.Count < Messages)
        {
            var batches = await station.Take(1);
            Assert.InRange(station.Intake.HeldBytes, 0, Bound);
            distinct.UnionWith(Station.Texts(batches));
            station.Commit(batches);
        }

        Assert.Equal(sent.ToHashSet(), distinct);
        await station.UntilTold<ReceiverNotice.Connected>(2);
    }

    [Fact]
    public async Task It_leaves_when_commits_have_failed_for_long_and_returns_when_they_work()
    {
        var clock = new ManualClock();
        await using var broker = await Started();
        await using var station = new Station(clock: clock).Run(Station.At(broker.Port));
        await station.UntilTold<ReceiverNotice.Connected>();
        await broker.Publish("axles/v1/example/RT-01/frame", Ten);
        var taken = await station.Take(10);
        station.Intake.CommitFailed("The disk is full.");
        clock.Move(TimeSpan.FromSeconds(10));
        station.Intake.CommitFailed("The disk is full.");
        await station.UntilTold<ReceiverNotice.Holding>();
        await broker.Publish("axles/v1/example/RT-01/frame", "meanwhile");
        station.Commit(taken);
        await station.UntilTold<ReceiverNotice.Connected>(2);
        string[] all = [.. Ten, "meanwhile"];
        Assert.Equal(all, Station.Texts(await station.Take(11)));
    }

    [Fact]
    public async Task No_broker_is_said_with_the_time_of_the_next_try()
    {
        await using var station = new Station().Run(Station.At(Mosquitto.FreePort()));
        await station.UntilTold<ReceiverNotice.Troubled>(3);
        Assert.All(station.Told<ReceiverNotice.Troubled>(), told => Assert.StartsWith("Cannot connect to 127.0.0.1:", told.Text, StringComparison.Ordinal));
    }

    private static async Task<Mosquitto> Started(params string[] settings)
    {
        Mosquitto.SkipUnlessInstalled();
        var broker = new Mosquitto(settings);
        await broker.Start();
        return broker;
    }
}
