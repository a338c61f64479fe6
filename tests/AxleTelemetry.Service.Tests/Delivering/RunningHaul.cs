using System.Collections.Immutable;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Service.Tests.Http;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Service.Tests.Sharding;
using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Tests.Delivering;

/// <summary>A shard at work on a journal, to which <see cref="RaisedHaul"/> is sent.</summary>
internal sealed class RunningHaul : IAsyncDisposable
{
    private readonly RunningShard _shard;

    public RunningHaul(string directory)
    {
        Clock = new ShiftedClock(DateTimeOffset.FromUnixTimeMilliseconds(RaisedHaul.UpToAdvice[^1].Received!.Value.UnixMilliseconds));
        var opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(directory, "main", new JournalOptions { ReserveBytes = 0 }, new ShardOptions()));
        _shard = new RunningShard(new ShardSettings("main", ["north"]), opened, new Bounds(), new Surroundings { Clock = Clock });
        _shard.Loop.Add(new ShardJob.Configure(RandomFleet.Configuration));
        _shard.Loop.Start();
    }

    /// <summary>The clock of its messages.</summary>
    public ShiftedClock Clock { get; }

    public ShardDesk Desk => _shard.Desk;

    /// <summary>Changes of alerts that the journal tells.</summary>
    public ImmutableArray<AlertChangeDocument> Changes => [.. Desk.Read(r => r.Told(Position.Start, 100_000)).Select(t => AlertChangeJson.Read(t.Row.Bytes.AsSpan())).OfType<AlertChangeDocument>()];

    /// <summary>Its alerts as they stand.</summary>
    public async Task<ImmutableArray<Alert>> AlertsAsync() => [.. (await Desk.AskAsync(s => s.Alerts, TestContext.Current.CancellationToken)).Alerts];

    /// <summary>Sends it all up to the first advice.</summary>
    public void Send()
    {
        foreach (var message in RaisedHaul.UpToAdvice) Assert.True(_shard.Intake.TryTake(ShardRun.Of(message)));
    }

    public async ValueTask DisposeAsync()
    {
        await _shard.StopAsync();
        _shard.Dispose();
    }
}
