namespace AxleTelemetry.Service.Delivering;

/// <summary>Rest that ends when somebody rings. For one who rests; anybody rings.</summary>
internal sealed class Bell(TimeProvider clock) : IDisposable
{
    private readonly SemaphoreSlim _rung = new(0);

    /// <summary>Something may be there to be done.</summary>
    public void Ring()
    {
        if (_rung.CurrentCount == 0) _rung.Release();
    }

    /// <summary>Rests for so long, or until it rings, or rang since the last rest.</summary>
    public async Task RestAsync(TimeSpan pause, CancellationToken cancel)
    {
        cancel.ThrowIfCancellationRequested();
        if (pause <= TimeSpan.Zero) return;
        using var either = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        await Task.WhenAny(_rung.WaitAsync(either.Token), Task.Delay(pause, clock, either.Token));
        await either.CancelAsync();
    }

    /// <inheritdoc/>
    public void Dispose() => _rung.Dispose();
}
