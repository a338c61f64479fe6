namespace AxleTelemetry.Service.Sharding;

/// <summary>
/// Follows a shard, one step after the other, until it is told to stop or the shard has ended. A step that fails is said and tried again, as whoever waits behind
/// it would else never hear anything more; the shard goes on meanwhile.
/// </summary>
internal sealed class Following(TimeProvider clock)
{
    private static readonly TimeSpan Again = TimeSpan.FromSeconds(1);

    private volatile string? _trouble;

    /// <summary>Why it does not get on at present; <c>null</c> where it does.</summary>
    public string? Trouble => _trouble;

    /// <summary>Takes steps. Throws nothing.</summary>
    public async Task RunAsync(Func<CancellationToken, Task> step, CancellationToken cancel)
    {
        try
        {
            while (!cancel.IsCancellationRequested && await TriedAsync(step, cancel))
                if (_trouble is not null) await Task.Delay(Again, clock, cancel);
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            // Told to stop: it goes on from where it was after the next start.
        }
    }

    /// <summary>One step. False where there is none to come.</summary>
    private async Task<bool> TriedAsync(Func<CancellationToken, Task> step, CancellationToken cancel)
    {
        try
        {
            await step(cancel);
            _trouble = null;
            return true;
        }
        catch (Exception failed) when (failed is not OutOfMemoryException && !(failed is OperationCanceledException && cancel.IsCancellationRequested))
        {
            _trouble = failed.Message;
            return failed is not ShardNotRunningException;
        }
    }
}
