using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Sharding;

/// <summary>Tells whoever waits that something further is committed. One advances it, any number wait.</summary>
internal sealed class CommitSignal(Position start)
{
    private readonly Lock _gate = new();
    private Position _position = start;
    private TaskCompletionSource? _waited;

    /// <summary>The last position committed.</summary>
    public Position Position
    {
        get
        {
            lock (_gate) return _position;
        }
    }

    /// <summary>Everything up to a position is committed.</summary>
    public void Advance(Position to)
    {
        TaskCompletionSource? waited;
        lock (_gate)
        {
            _position = to;
            (waited, _waited) = (_waited, null);
        }

        waited?.SetResult();
    }

    /// <summary>Waits until something after a position is committed.</summary>
    public async Task UntilAfterAsync(Position seen, CancellationToken cancel)
    {
        while (true)
        {
            Task next;
            lock (_gate)
            {
                if (_position > seen) return;
                _waited ??= new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
                next = _waited.Task;
            }

            await next.WaitAsync(cancel);
        }
    }
}
