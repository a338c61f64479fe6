using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Storage.Opening;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>A shard stops while its journal takes nothing: whoever waits for an answer gets one that is true.</summary>
public sealed class LoopEndTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("axle-loop-end-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task An_action_that_was_not_written_when_the_stop_came_is_answered_by_the_last_try(bool lastTryWorks)
    {
        var store = new TellingStore();
        var run = new ShardRun(Shard.Begin(store, new ShardOptions()));
        var messages = Haul.Of("17 t at 4.3 m", 2, "rigid-6x2-tag");
        run.Configure(messages[0].Received!.Value);
        foreach (var some in messages.Chunk(20)) run.Append(some);
        run.End();
        var alert = run.Shard.State.Alerts.Alerts.First(a => a.State is AlertState.Unacknowledged or AlertState.ReturnedUnacknowledged);

        var opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(_folder.FullName, "main", new JournalOptions { ReserveBytes = 0 }, new ShardOptions()));
        using var journal = opened.Store;
        var trace = new ReceiveTrace();
        var intake = new Intake(new IntakeOptions(), trace, TimeProvider.System);
        var house = new HouseKeeping(journal.Journal, new Bounds(), () => []);
        using var loop = new ShardLoop(new ShardPlace("main", run.Shard, journal.Journal, house, _ => { }), intake, trace, TimeProvider.System);
        using var desk = new ShardDesk("main", ["north"], loop, journal.Journal.Reader);
        var cancel = TestContext.Current.CancellationToken;

        store.IsFull = true;
        // Waits already when the shard begins, so that it is what the commit fails for.
        var acting = desk.ActAsync(alert.Id, new OperatorAction.Acknowledge("Ada"), cancel);
        loop.Start();
        await Eventually.Holds(() => loop.Health().CommitTrouble is not null, () => "no commit failed");
        Assert.Equal(1, await desk.AskAsync(_ => 1, cancel));
        store.IsFull = !lastTryWorks;
        await Task.Run(loop.Stop, cancel);

        var outcome = await acting;
        if (lastTryWorks) Assert.IsType<ActionOutcome.Taken>(outcome);
        else Assert.Contains("may have been entered", Assert.IsType<ActionOutcome.Unknown>(outcome).Why, StringComparison.Ordinal);
        Assert.Equal(lastTryWorks, store.Told.Any(c => c.Id == alert.Id.ToString() && c.Cause == "acknowledge"));

        // Whoever asks now is another thread: the state is nobody's any more.
        await Assert.ThrowsAsync<ShardNotRunningException>(() => desk.AskAsync(_ => 1, cancel));
        await Assert.ThrowsAsync<ShardNotRunningException>(() => desk.ResumeAsync(alert.Id.Vehicle, cancel));
        Assert.IsType<ActionOutcome.Unavailable>(await desk.ActAsync(alert.Id, new OperatorAction.Acknowledge("Ada"), cancel));
    }
}
