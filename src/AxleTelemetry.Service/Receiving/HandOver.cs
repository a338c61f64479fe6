namespace AxleTelemetry.Service.Receiving;

/// <summary>A device at the embedded broker waits for one message to be committed.</summary>
internal sealed class HandOver(long connection) : IAcknowledger
{
    private readonly TaskCompletionSource<bool> _committed = new(TaskCreationOptions.RunContinuationsAsynchronously);

    public long Connection => connection;

    public bool Acknowledge(ushort packetId) => _committed.TrySetResult(true);

    public void Flush()
    {
        // Each waits alone.
    }

    /// <summary>Waits for the commit; <c>false</c> when the connection went first.</summary>
    public async Task<bool> CommittedAsync(CancellationToken connectionDown)
    {
        await using var gone = connectionDown.Register(() => _committed.TrySetResult(false));
        return await _committed.Task;
    }
}
