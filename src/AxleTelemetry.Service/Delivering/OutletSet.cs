using System.Collections.Immutable;
using AxleTelemetry.Storage.Delivering;

namespace AxleTelemetry.Service.Delivering;

/// <summary>
/// The senders, one for each recipient. One that is replaced, or whose recipient goes, ends what it has in hand first, and whoever follows it under its name waits
/// for that: no recipient ever has two. For any thread.
/// </summary>
internal sealed class OutletSet(DeliveryFile file, TimeProvider clock) : IAsyncDisposable
{
    private readonly Lock _gate = new();
    private readonly CancellationTokenSource _stop = new();
    private readonly Dictionary<string, Task> _ends = new(StringComparer.Ordinal);
    private ImmutableSortedDictionary<string, OutletLoop> _loops = ImmutableSortedDictionary.Create<string, OutletLoop>(StringComparer.Ordinal);
    private bool _isStarted;

    /// <summary>Those there are, by name.</summary>
    public ImmutableSortedDictionary<string, OutletLoop> All => Volatile.Read(ref _loops);

    /// <summary>Sends to a recipient so from now on.</summary>
    public void Put(OutletOrder order, IOutlet outlet)
    {
        lock (_gate)
        {
            _loops.GetValueOrDefault(order.Recipient)?.Leave();
            var loop = new OutletLoop(order, outlet, file, clock);
            Volatile.Write(ref _loops, _loops.SetItem(order.Recipient, loop));
            if (_isStarted) Begin(loop);
        }
    }

    /// <summary>Sends to a recipient no more.</summary>
    /// <param name="recipient">Who.</param>
    /// <param name="ended">Done once nothing is on its way to him, and again until it is false that something is left, unless he is back by then.</param>
    public void Remove(string recipient, Func<bool> ended)
    {
        lock (_gate)
        {
            if (!_loops.TryGetValue(recipient, out var loop)) return;
            loop.Leave();
            Volatile.Write(ref _loops, _loops.Remove(recipient));
            var before = _ends.GetValueOrDefault(recipient, Task.CompletedTask);
            _ends[recipient] = Task.Run(async () =>
            {
                await before;
                while (!_stop.IsCancellationRequested && !All.ContainsKey(recipient) && ended())
                {
                }
            });
        }
    }

    /// <summary>Begins to send.</summary>
    public void Start()
    {
        lock (_gate)
        {
            _isStarted = true;
            foreach (var loop in _loops.Values) Begin(loop);
        }
    }

    /// <summary>Something may be there to be sent.</summary>
    public void Wake()
    {
        foreach (var loop in All.Values) loop.Wake();
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        Task[] ends;
        lock (_gate) ends = [.. _ends.Values];
        await Task.WhenAll(ends);
        foreach (var loop in All.Values) loop.Dispose();
        _stop.Dispose();
    }

    private void Begin(OutletLoop loop)
    {
        var before = _ends.GetValueOrDefault(loop.Order.Recipient, Task.CompletedTask);
        _ends[loop.Order.Recipient] = Task.Run(async () =>
        {
            await before;
            await loop.RunAsync(_stop.Token);
            // Those that are there at the end are disposed of then: others may still ring at them.
            if (!_stop.IsCancellationRequested) loop.Dispose();
        });
    }
}
