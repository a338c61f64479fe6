using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Demonstrating;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Simulator.Days;
using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Series;

namespace AxleTelemetry.Service.Tests.Series;

/// <summary>A day of some of the demonstration's vehicles while the database is away: it stands there whole afterwards. How long that takes is measured by <c>-- catchup</c> of the benchmarks.</summary>
public sealed class CaughtUpTests : IDisposable
{
    private const ulong Seed = 6;
    private const int Vehicles = 7;
    private const long MostHeld = 8L << 20;
    private static readonly DateTimeOffset Start = new(2026, 3, 2, 14, 0, 0, TimeSpan.Zero);

    private readonly DirectoryInfo _data = Directory.CreateTempSubdirectory("axle-caught-up-");

    public void Dispose() => _data.Delete(recursive: true);

    [Fact]
    public async Task A_day_that_the_database_was_away_stands_there_whole()
    {
        InfluxServer.SkipWhereMissing();
        var fleet = DemoFleet.Draw(Seed, Vehicles, new DemoPace(new FollowingClock(Start)));
        using var place = DemoPlace.Create(Path.Combine(_data.FullName, "fleet"))!;
        place.Write(fleet, ListenAddress.Parse("127.0.0.1:8080")!, DemoPlace.UsualPort);
        var configuration = Assert.IsType<ServiceResult.Loaded>(ServiceReading.Read(place.Settings)).Configuration;
        var settings = Assert.Single(configuration.Settings.Shards);
        var opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(configuration.DataDirectory, settings.Name, new JournalOptions { ReserveBytes = 0 }, new ShardOptions()));
        var clock = new FollowingClock(Start.AddHours(-8));
        using var shard = new RunningShard(settings, opened, configuration.Settings.Bounds, new Surroundings { Clock = clock });
        shard.Loop.Add(new ShardJob.Configure(configuration.Of(settings)));
        shard.Loop.Start();
        var (front, back) = (InfluxServer.FreePort(), InfluxServer.FreePort());
        var address = new Uri(FormattableString.Invariant($"http://127.0.0.1:{front}"));
        shard.Carry(new SeriesClient(new SeriesTarget(address, "fleet", InfluxServer.Database), "a-token-that-is-not-asked-for"), new HurriedClock(100));
        var messages = 0L;
        foreach (var sent in fleet.Play(0, 1).OfType<DayOutput.Sent>().Select(s => s.Message))
        {
            if (shard.Intake.HeldBytes > MostHeld) await Eventually.Holds(() => shard.Intake.HeldBytes < MostHeld / 2, () => $"{shard.Desk.Health}");
            clock.Now = DateTimeOffset.FromUnixTimeMilliseconds(sent.SentAt.UnixMilliseconds);
            Assert.True(shard.Intake.TryTake(new Received { Topic = sent.Topic, Payload = sent.Payload, At = clock.Now }));
            messages++;
        }

        clock.Now += TimeSpan.FromHours(1);
        await Eventually.Holds(() => CarriedFleet.IsSettled(shard), () => $"{shard.Desk.Health}");
        Assert.Equal((messages, 0L), (shard.Trace.Committed, shard.Desk.Series()!.Written));
        Assert.NotNull(shard.Desk.Series()!.Trouble);

        await using var server = await InfluxServer.StartAsync(_data.FullName, back);
        await using var second = await SecondVersion.StartAsync(server.Address, front);
        await Eventually.Holds(() => CarriedFleet.IsSettled(shard) && CarriedFleet.IsCarried(shard), () => $"{shard.Desk.Series()}");
        var inForce = InfluxLines.Of(await InForce.OfAsync(shard.Desk));
        var state = shard.Desk.Series()!;
        await shard.StopAsync();
        Assert.Equal((0L, 0L, 0, (string?)null), (state.Missed, state.Untold, state.Refused.Count, state.Trouble));
        Assert.True(inForce.Count > 3_000, $"{inForce.Count} points");
        Assert.Equal(inForce, await InfluxLines.InAsync(server));
    }
}
