using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Drives;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Service.Tests.Http;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Service.Tests.Sharding;
using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Service.Tests.Drives;

/// <summary>Speed out of the journal is that of the messages, as the decoder alone reads them.</summary>
public sealed class SpeedReadingTests : IDisposable
{
    private const int Points = 900;

    private static readonly VehicleName Truck = new("north", "RT-01");

    private readonly DirectoryInfo _data = Directory.CreateTempSubdirectory("axle-speed-");

    public void Dispose() => _data.Delete(recursive: true);

    [Fact]
    public async Task It_is_that_of_the_messages_up_to_as_many_as_are_read_at_once_and_none_for_a_long_span()
    {
        var recording = RandomFleet.Recording(3);
        var clock = new ShiftedClock(DateTimeOffset.FromUnixTimeMilliseconds(recording[^1].Received!.Value.UnixMilliseconds).AddSeconds(30));
        var opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(_data.FullName, "main", new JournalOptions { ReserveBytes = 0 }, new ShardOptions()));
        using var shard = new RunningShard(new ShardSettings("main", ["north"]), opened, new Bounds(), new Surroundings { Clock = clock });
        shard.Loop.Add(new ShardJob.Configure(RandomFleet.Configuration));
        shard.Loop.Start();
        foreach (var message in recording) Assert.True(shard.Intake.TryTake(ShardRun.Of(message)));
        await Eventually.Holds(() => shard.Desk.Health is { IsSettled: true, ToBeCorrected: 0 }, () => $"{shard.Desk.Health}");
        var readings = new StoredReadings(await shard.Desk.AskAsync(s => s.Log.Copy(), TestContext.Current.CancellationToken));
        var from = new Moment(recording.Min(m => m.Received!.Value.UnixMilliseconds)).Plus(-86_400);

        var oracle = new MessageOracle("north", RandomFleet.Scene.Vehicles, TimeSpan.FromSeconds(60));
        var sent = recording.SelectMany(m => oracle.Judge(new SpoiledMessage("as sent", m.Topic, m.Payload.ToArray(), m.Received!.Value)) is MessageVerdict.Taken taken && taken.Topic.Vehicle == Truck.Id
            ? taken.Message.Readings.ToArray() : []).Where(r => r.Kind == ReadingKind.Position && (PositionKey)r.Key == PositionKey.Speed && r.At >= from).ToArray();
        var whole = new SpeedReading(shard.Desk, readings).Read(Truck, (from, from.Plus(SpeedReading.MostSeconds)), Points);
        Assert.Equal((SpeedCover.Whole, null), (whole.Cover, whole.Until));
        Assert.Equal((sent.Min(r => r.Value), sent.Max(r => r.Value)), (whole.Points.Min(p => p.Speed!.Value), whole.Points.Max(p => p.Speed!.Value)));

        var begun = new SpeedReading(shard.Desk, readings) { Most = 500 }.Read(Truck, (from, from.Plus(SpeedReading.MostSeconds)), Points);
        Assert.Equal(SpeedCover.Begun, begun.Cover);
        Assert.InRange(begun.Points.Length, 1, whole.Points.Length - 1);
        Assert.True(begun.Until < whole.Points[^1].At);

        var tooLong = new SpeedReading(shard.Desk, readings).Read(Truck, (from, from.Plus(SpeedReading.MostSeconds + 1)), Points);
        Assert.Equal((SpeedCover.TooLong, 0), (tooLong.Cover, tooLong.Points.Length));
        await shard.StopAsync();
    }
}
