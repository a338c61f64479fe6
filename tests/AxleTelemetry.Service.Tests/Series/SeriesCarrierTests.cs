using System.Collections.Immutable;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Series;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Service.Tests.Serving;
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
        var fleet = new CarriedFleet(_data.FullName, recording);
        var sink = new PointSink(seed);
        // A part of it comes when all the rest was carried long ago: then rows change that stand outside.
        var late = new Random(seed);
        var parts = recording.ToLookup(_ => late.Next(12) == 0);
        ImmutableArray<RecordedMessage> inTime = [.. parts[false]];
        await RunAsync(fleet, sink, inTime[..(inTime.Length / 2)], settle: false);
        await RunAsync(fleet, sink, inTime[(inTime.Length / 2)..], settle: true);
        var before = sink.Standing().ToList();
        var inForce = await RunAsync(fleet, sink, parts[true], settle: true);
        Assert.True(inForce.Count > 1_000, $"{inForce.Count} points");
        Assert.NotEqual(before.Where(l => l.StartsWith("axle_load", StringComparison.Ordinal)), inForce.Where(l => l.StartsWith("axle_load", StringComparison.Ordinal)));
        Assert.Equal(inForce, sink.Standing());
        Assert.True(sink.Away > 0, "it was never away");
        Assert.Equal(SeriesSchema.All.Select(m => m.Name).Order(), inForce.Select(l => l[..l.IndexOf(',', StringComparison.Ordinal)]).Distinct().Order());
    }

    [Fact]
    public async Task What_is_corrected_while_it_is_on_its_way_is_taken_back_too()
    {
        const int Seed = 4;
        var recording = RandomFleet.Recording(Seed);
        var late = new Random(Seed);
        var parts = recording.ToLookup(_ => late.Next(12) == 0);
        var answers = new TaskCompletionSource();
        var sink = new PointSink(Seed);
        var fleet = new CarriedFleet(_data.FullName, recording);
        using (var first = fleet.Open())
        {
            CarriedFleet.Send(first, parts[false]);
            await Eventually.Holds(() => CarriedFleet.IsSettled(first), () => $"{first.Desk.Health}");
            sink.Answering = answers.Task;
            first.Carry(new SeriesDelivery(sink.SendAsync, TimeProvider.System), TimeProvider.System);
            // The database has taken it, nobody knows yet, and what it was read from changes.
            await Eventually.Holds(() => sink.Sent > 0, () => "nothing was sent");
            CarriedFleet.Send(first, parts[true]);
            await Eventually.Holds(() => CarriedFleet.IsSettled(first), () => $"{first.Desk.Health}");
            Assert.Equal(1, sink.Sent);
            // And the process ends before it is told.
            await first.StopAsync();
        }

        answers.SetResult();
        using var shard = fleet.Open();
        shard.Carry(new SeriesDelivery(sink.SendAsync, TimeProvider.System), TimeProvider.System);
        await CarriedFleet.Settled(shard);
        var inForce = (await InForce.OfAsync(shard.Desk)).Select(PointSink.Line).Order(StringComparer.Ordinal).ToList();
        await shard.StopAsync();
        Assert.Empty(sink.Standing().Except(inForce));
        Assert.Equal(inForce, sink.Standing());
    }

    [Fact]
    public async Task Who_is_taken_out_of_the_settings_holds_nothing_back_any_more()
    {
        var recording = RandomFleet.Recording(4);
        var fleet = new CarriedFleet(_data.FullName, recording);
        await RunAsync(fleet, new PointSink(4), recording[..(recording.Length / 4)], settle: true);
        using var shard = fleet.Open(start: false);
        Assert.NotEqual(Storage.Rows.Position.End, shard.Desk.Read(r => r.SlowestCursor()));
        shard.CarryNowhere();
        Assert.Equal(Storage.Rows.Position.End, shard.Desk.Read(r => r.SlowestCursor()));
        shard.Loop.Start();
        await shard.StopAsync();
    }

    [Fact]
    public async Task Every_point_has_the_tags_and_fields_that_are_documented()
    {
        var recording = RandomFleet.Recording(5);
        var lines = await RunAsync(new CarriedFleet(_data.FullName, recording), new PointSink(5), recording, settle: true);
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
    private static async Task<List<string>> RunAsync(CarriedFleet fleet, PointSink sink, IEnumerable<RecordedMessage> messages, bool settle)
    {
        using var shard = fleet.Open();
        shard.Carry(new SeriesDelivery(sink.SendAsync, TimeProvider.System), TimeProvider.System);
        CarriedFleet.Send(shard, messages);
        if (settle) await CarriedFleet.Settled(shard);
        var state = shard.Desk.Series()!;
        Assert.Equal((0, 0), (state.Untold, state.Refused.Count));
        var lines = (await InForce.OfAsync(shard.Desk)).Select(PointSink.Line).ToList();
        await shard.StopAsync();
        lines.Sort(StringComparer.Ordinal);
        return lines;
    }
}
