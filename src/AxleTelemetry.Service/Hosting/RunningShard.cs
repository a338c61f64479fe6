using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Series;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Series;

namespace AxleTelemetry.Service.Hosting;

/// <summary>A shard at work: its journal, its intake, its thread, and what receives for it.</summary>
internal sealed class RunningShard : IDisposable
{
    private readonly JournalStore _store;
    private readonly CancellationTokenSource _stop = new();
    private Task _receiving = Task.CompletedTask, _carrying = Task.CompletedTask;
    private SeriesClient? _series;

    public RunningShard(ShardSettings settings, ShardOpening.Opened opened, Bounds bounds, Surroundings around)
    {
        _store = opened.Store;
        Settings = settings;
        Trace = new ReceiveTrace(around.Hook);
        Intake = new Intake(ReceiverSetup.Of(bounds), Trace, around.Clock);
        var house = new HouseKeeping(_store.Journal, bounds, opened.Shard.State.History.NeededAgain);
        Loop = new ShardLoop(new ShardPlace(settings.Name, opened.Shard, _store.Journal, house, around.TellShard), Intake, Trace, around.Clock);
        Desk = new ShardDesk(settings.Name, settings.Fleets, Loop, _store.Journal.Reader);
    }

    /// <summary>What the operator wrote of it.</summary>
    public ShardSettings Settings { get; }

    /// <summary>Where its messages wait.</summary>
    public Intake Intake { get; }

    /// <summary>What is counted of receiving.</summary>
    public ReceiveTrace Trace { get; }

    /// <summary>Its thread.</summary>
    public ShardLoop Loop { get; }

    /// <summary>For others to ask.</summary>
    public ShardDesk Desk { get; }

    /// <summary>Receives from a broker elsewhere.</summary>
    public void Receive(BrokerReceiver receiver)
    {
        Loop.Receiver = () => receiver.Health;
        _receiving = receiver.RunAsync(_stop.Token);
    }

    /// <summary>Carries its history to a database of time series.</summary>
    public void Carry(SeriesClient to, TimeProvider clock)
    {
        _series = to;
        Carry(new SeriesDelivery(to.SendAsync, clock), clock);
    }

    /// <summary>Carries its history to wherever a delivery brings it.</summary>
    public void Carry(SeriesDelivery delivery, TimeProvider clock)
    {
        var carrier = new SeriesCarrier(Desk, delivery, clock);
        Desk.Series = () => carrier.State;
        _carrying = Task.Run(() => carrier.RunAsync(_stop.Token));
    }

    /// <summary>Its history is carried nowhere. To be called before its thread starts: a reader that never comes back would keep raw inputs, and rows that are void, for ever.</summary>
    public void CarryNowhere() => _store.Journal.Forget(SeriesCarrier.Cursor);

    /// <summary>No more messages; what was taken is committed.</summary>
    public async Task StopAsync()
    {
        await _stop.CancelAsync();
        await _receiving;
        await _carrying;
        await Task.Run(Loop.Stop);
    }

    public void Dispose()
    {
        _series?.Dispose();
        Desk.Dispose();
        Loop.Dispose();
        _store.Dispose();
        _stop.Dispose();
    }
}
