using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Drives;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Service.Series;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Service.Tests.Http;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Service.Tests.Sharding;
using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Series;

namespace AxleTelemetry.Service.Tests.Series;

/// <summary>A drawn fleet in a journal whose history is carried out, run after run on the same directory.</summary>
internal sealed class CarriedFleet(string directory, ImmutableArray<RecordedMessage> recording)
{
    private readonly ShiftedClock _clock = new(DateTimeOffset.FromUnixTimeMilliseconds(recording[^1].Received!.Value.UnixMilliseconds).AddSeconds(30));

    /// <summary>A shard that carries nothing yet.</summary>
    /// <param name="start">False where it is to be begun by hand.</param>
    public RunningShard Open(bool start = true)
    {
        var opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(directory, "main", new JournalOptions { ReserveBytes = 0 }, new ShardOptions()));
        var shard = new RunningShard(new ShardSettings("main", ["north"]), opened, new Bounds(), new Surroundings { Clock = _clock });
        shard.Loop.Add(new ShardJob.Configure(RandomFleet.Configuration));
        if (start) shard.Loop.Start();
        return shard;
    }

    /// <summary>Gives messages to a shard.</summary>
    public static void Send(RunningShard shard, IEnumerable<RecordedMessage> messages)
    {
        foreach (var message in messages) Assert.True(shard.Intake.TryTake(ShardRun.Of(message)));
    }

    /// <summary>Everything is taken, corrected and carried.</summary>
    public static Task Settled(RunningShard shard) => Eventually.Holds(() => IsSettled(shard) && IsCarried(shard), () => $"{shard.Desk.Health} {shard.Desk.Series()}");

    /// <summary>Everything is taken, committed and corrected. What health says is of the last commit only once it names its batch.</summary>
    public static bool IsSettled(RunningShard shard) =>
        shard.Trace.Committed == shard.Trace.Received && shard.Desk.Health is { IsSettled: true, ToBeCorrected: 0 } health && health.Batch == shard.Desk.Committed.Batch;

    /// <summary>Whoever carries has passed the last commit.</summary>
    public static bool IsCarried(RunningShard shard) => shard.Desk.Read(r => r.Cursor(SeriesCarrier.Cursor)) is CursorState.At at && at.Position >= shard.Desk.Committed;

    /// <summary>One run with a writer, which ends with it: messages, then until all is carried. Gives the history in force at its end.</summary>
    public async Task<List<Domain.Histories.HistoryRow>> RunAsync(SeriesClient to, IEnumerable<RecordedMessage> messages)
    {
        using var shard = Open();
        shard.Carry(to, TimeProvider.System);
        Send(shard, messages);
        await Settled(shard);
        Assert.Equal((0, 0), (shard.Desk.Series()!.Untold, shard.Desk.Series()!.Refused.Count));
        var rows = InForceRows(shard.Desk);
        await shard.StopAsync();
        return rows;
    }

    /// <summary>The history in force, straight from the journal.</summary>
    public static List<Domain.Histories.HistoryRow> InForceRows(ShardDesk desk) =>
    [
        .. desk.Read(r => r.Vehicles()).Where(v => v != VehicleKey.Shard)
            .SelectMany(v => desk.Read(r => r.Touched(v, new Moment(long.MinValue))))
            .Select(row => HistoryReading.Row(row.Row.Bytes.AsSpan())).OfType<Domain.Histories.HistoryRow>(),
    ];
}
