using System.Collections.Immutable;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Service.Health;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Service.Sighting;

/// <summary>
/// The present for the pages: one picture for all who look, taken anew after a commit, and not at all while nobody looks. Alerts are looked at
/// after every commit, but five times a second at most; every vehicle as often as costs little of the shards' time.
/// </summary>
internal sealed class NowBoard(Desks desks, TimeProvider clock, ILogger<NowBoard> log) : BackgroundService, INowSight
{
    private static readonly TimeSpan Least = TimeSpan.FromMilliseconds(200), Linger = TimeSpan.FromSeconds(30), Longest = TimeSpan.FromSeconds(5);

    private readonly Lock _gate = new();
    private readonly AlertLines _lines = new(desks);
    private readonly AlarmTimes _alarms = new(desks);
    private readonly FleetSweep _sweep = new(desks, clock);
    private NowPicture _now = NowPicture.None;
    private TaskCompletionSource _taken = Signal(), _watched = Signal();
    private int _watchers;
    private long _number;
    private DateTimeOffset _leftAt;

    public NowPicture Now => Volatile.Read(ref _now);

    public ImmutableArray<string> Fleets => [.. desks.All.SelectMany(d => d.Fleets).Order(StringComparer.Ordinal)];

    public IDisposable Watch()
    {
        lock (_gate)
        {
            // What was taken before everybody left is of then.
            if (_watchers++ == 0 && IsLeft()) Volatile.Write(ref _now, NowPicture.None);
            _watched.TrySetResult();
        }

        return new Watcher(this);
    }

    public async Task<NowPicture> AfterAsync(long number, CancellationToken cancel)
    {
        while (true)
        {
            Task next;
            lock (_gate)
            {
                if (_now.Number > number) return _now;
                next = _taken.Task;
            }

            await next.WaitAsync(cancel);
        }
    }

    public async Task<string?> ActAsync(string alert, OperatorAction action, CancellationToken cancel)
    {
        var parts = alert.Split('/');
        if (parts.Length < 2 || desks.Find(parts[0]) is not { } desk) return ActionRefusalWords.Of(ActionRefusal.UnknownAlert);
        try
        {
            if (await AlertRoutes.FindAsync(desk, alert, cancel) is not { } found) return ActionRefusalWords.Of(ActionRefusal.UnknownAlert);
            return await desk.ActAsync(found.Id, action, cancel) switch
            {
                ActionOutcome.Taken => null,
                ActionOutcome.Refused refused => ActionRefusalWords.Of(refused.Why),
                ActionOutcome.Unavailable unavailable => unavailable.Why,
                ActionOutcome.Unknown unknown => unknown.Why,
                var other => throw new ArgumentOutOfRangeException(nameof(action), other, "Unknown outcome."),
            };
        }
        catch (ShardNotRunningException ended)
        {
            return ended.Message;
        }
    }

    public ImmutableArray<AwaitedContact> Awaited(string alert)
    {
        try
        {
            return [.. (desks.Deliveries?.WaitingAbout(alert) ?? []).Select(p => new AwaitedContact(p.Recipient, p.Queued, p.Trouble))];
        }
        catch (IOException)
        {
            // Health says that what is delivered cannot be read; the alert is shown all the same.
            return [];
        }
    }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var heads = ImmutableDictionary<string, Position>.Empty;
        try
        {
            while (true)
            {
                await UntilWatchedAsync(stoppingToken);
                heads = desks.All.ToImmutableDictionary(d => d.Name, d => d.Committed);
                await TakeAsync(stoppingToken);
                await Task.Delay(Least, clock, stoppingToken);
                await UntilCommittedAsync(heads, stoppingToken);
            }
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            // The service stops.
        }
    }

    private async Task TakeAsync(CancellationToken cancel)
    {
        try
        {
            var at = clock.Now();
            var alerts = await _lines.ReadAsync(cancel);
            var alarms = _alarms.Read(at);
            Publish(Now with { At = at, Alerts = alerts, Alarms = alarms, Troubles = Troubles() });
            var fleet = await _sweep.ReadAsync(cancel);
            if (Now.Fleet != fleet) Publish(Now with { Fleet = fleet });
        }
        catch (ShardNotRunningException ended)
        {
            Publish(Now with { At = clock.Now(), Troubles = [ended.Message] });
        }
        catch (Exception failed) when (failed is not OutOfMemoryException && !cancel.IsCancellationRequested)
        {
            // Who looks is better off with the picture of before than with none; its time says how old it is.
            log.SightFailed(failed);
        }
    }

    private void Publish(NowPicture next)
    {
        TaskCompletionSource taken;
        lock (_gate)
        {
            Volatile.Write(ref _now, next with { Number = ++_number });
            (taken, _taken) = (_taken, Signal());
        }

        taken.SetResult();
    }

    private ImmutableArray<string> Troubles() => [.. HealthDocument.Of([.. desks.All.Select(d => (d.Name, d.Health))]).Reasons.Select(r => r.Sentence)];

    private async Task UntilWatchedAsync(CancellationToken cancel)
    {
        while (true)
        {
            Task watched;
            lock (_gate)
            {
                if (_watchers > 0 || !IsLeft()) return;
                if (_watched.Task.IsCompleted) _watched = Signal();
                watched = _watched.Task;
            }

            await watched.WaitAsync(cancel);
        }
    }

    private async Task UntilCommittedAsync(ImmutableDictionary<string, Position> heads, CancellationToken cancel)
    {
        using var enough = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        var waits = desks.All.Select(d => d.UntilAfterAsync(heads[d.Name], enough.Token)).Append(Task.Delay(Longest, clock, enough.Token)).ToArray();
        await Task.WhenAny(waits);
        await enough.CancelAsync();
        await Task.WhenAll(waits).ContinueWith(_ => { }, CancellationToken.None, TaskContinuationOptions.None, TaskScheduler.Default);
        cancel.ThrowIfCancellationRequested();
    }

    private bool IsLeft() => clock.GetUtcNow() - _leftAt > Linger;

    private void Leave()
    {
        lock (_gate)
            if (--_watchers == 0)
                _leftAt = clock.GetUtcNow();
    }

    private static TaskCompletionSource Signal() => new(TaskCreationOptions.RunContinuationsAsynchronously);

    private sealed class Watcher(NowBoard board) : IDisposable
    {
        private int _left;

        public void Dispose()
        {
            if (Interlocked.Exchange(ref _left, 1) == 0) board.Leave();
        }
    }
}
