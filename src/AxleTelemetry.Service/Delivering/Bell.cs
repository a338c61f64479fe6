namespace AxleTelemetry.Service.Delivering;

/// <summary>Rest that ends when somebody rings. For one who rests; anybody rings, also after the other has left for good.</summary>
internal sealed class Bell(TimeProvider clock)
{
    private TaskCompletionSource _rung = Silent();

    /// <summary>Something may be there to be done.</summary>
    public void Ring() => Volatile.Read(ref _rung).TrySetResult();

    /// <summary>Rests for so long, or until it rings, or rang since the last rest.</summary>
    public async Task RestAsync(TimeSpan pause, CancellationToken cancel)
    {
        cancel.ThrowIfCancellationRequested();
        if (pause <= TimeSpan.Zero) return;
        var rung = Volatile.Read(ref _rung);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        await Task.WhenAny(rung.Task, Task.Delay(pause, clock, either.Token));
        await either.CancelAsync();
        // Who rang before this is answered by the look that follows.
        if (rung.Task.IsCompleted) Volatile.Write(ref _rung, Silent());
    }

    private static TaskCompletionSource Silent() => new(TaskCreationOptions.RunContinuationsAsynchronously);
}
