using System.Collections.Immutable;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Series;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Service.Tests.Http;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Service.Tests.Sharding;
using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Series;

namespace AxleTelemetry.Service.Tests.Series;

/// <summary>What stands outside is the history in force: after outages, restarts, late messages and what they correct.</summary>
public sealed class SeriesCarrierTests : IDisposable
{
    private readonly DirectoryInfo _data = Directory.CreateTempSubdirectory("axle-series-");

    public void Dispose() => _data.Delete(recursive: true);

    [Theory]
    [InlineData(3)]
    [InlineData(4)]
    public async Task What_stands_outside_is_the_history_in_force(int seed)
    {
        var recording = RandomFleet.Recording((ulong)seed);
        var clock = new ShiftedClock(DateTimeOffset.FromUnixTimeMilliseconds(recording[^1].Received!.Value.UnixMilliseconds).AddSeconds(30));
        var sink = new PointSink(seed);
        // A part of it comes when all the rest was carried long ago: then rows change that stand outside.
        var late = new Random(seed);
        var parts = recording.ToLookup(_ => late.Next(12) == 0);
        ImmutableArray<RecordedMessage> inTime = [.. parts[false]];
        await RunAsync(clock, sink, inTime[..(inTime.Length / 2)], settle: false);
        await RunAsync(clock, sink, inTime[(inTime.Length / 2)..], settle: true);
        var before = sink.Standing().ToList();
        var inForce = await RunAsync(clock, sink, [.. parts[true]], settle: true);
        Assert.True(inForce.Count > 1_000, $"{inForce.Count} points");
        Assert.NotEqual(before.Where(l => l.StartsWith("axle_load", StringComparison.Ordinal)), inForce.Where(l => l.StartsWith("axle_load", StringComparison.Ordinal)));
        Assert.Equal(inForce, sink.Standing());
        Assert.True(sink.Away > 0, "it was never away");
        Assert.Equal(SeriesSchema.All.Select(m => m.Name).Order(), inForce.Select(l => l[..l.IndexOf(',', StringComparison.Ordinal)]).Distinct().Order());
    }

    [Fact]
    public async Task Every_point_has_the_tags_and_fields_that_are_documented()
    {
        var recording = RandomFleet.Recording(5);
        var clock = new ShiftedClock(DateTimeOffset.FromUnixTimeMilliseconds(recording[^1].Received!.Value.UnixMilliseconds).AddSeconds(30));
        var lines = await RunAsync(clock, new PointSink(5), recording, settle: true);
        foreach (var line in lines)
        {
            var parts = line.Split(' ')[0].Split(',');
            var measurement = SeriesSchema.All.Single(m => m.Name == parts[0]);
            Assert.Equal(measurement.Tags, parts[1..].Select(t => t.Split('=')[0]));
            Assert.All(measurement.Fields, f => Assert.Contains($"{f.Name}=", line, StringComparison.Ordinal));
        }
    }

    [Fact]
    public void The_page_about_series_says_what_is_written()
    {
        var page = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "series.md"));
        foreach (var measurement in SeriesSchema.All)
        {
            Assert.Contains($"## {measurement.Name}\n\n{measurement.About}\n\nTags: {string.Join(", ", measurement.Tags)}.\n", page, StringComparison.Ordinal);
            foreach (var (name, about) in measurement.Fields) Assert.Contains($"| `{name}` | {about} |\n", page, StringComparison.Ordinal);
        }
    }

    /// <summary>One run of a shard with its carrier, from opening to a stop. Gives the lines of the history in force at its end.</summary>
    private async Task<List<string>> RunAsync(ShiftedClock clock, PointSink sink, ImmutableArray<RecordedMessage> messages, bool settle)
    {
        var opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(_data.FullName, "main", new JournalOptions { ReserveBytes = 0 }, new ShardOptions()));
        using var shard = new RunningShard(new ShardSettings("main", ["north"]), opened, new Bounds(), new Surroundings { Clock = clock });
        shard.Loop.Add(new ShardJob.Configure(RandomFleet.Configuration));
        shard.Loop.Start();
        shard.Carry(new SeriesDelivery(sink.SendAsync, TimeProvider.System), TimeProvider.System);
        foreach (var message in messages) Assert.True(shard.Intake.TryTake(ShardRun.Of(message)));
        if (settle)
            await Eventually.Holds(() => shard.Desk.Health is { IsSettled: true, ToBeCorrected: 0 } && shard.Desk.Read(r => r.Cursor(SeriesCarrier.Cursor)) is CursorState.At at && at.Position >= shard.Desk.Committed,
                () => $"{shard.Desk.Health} {shard.Desk.Series()}");
        var state = shard.Desk.Series()!;
        Assert.Equal((0, 0), (state.Untold, state.Refused.Count));
        var lines = (await InForce.OfAsync(shard.Desk)).Select(PointSink.Line).ToList();
        await shard.StopAsync();
        lines.Sort(StringComparer.Ordinal);
        return lines;
    }
}
