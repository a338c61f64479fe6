namespace AxleTelemetry.Service.Tests.Receiving;

/// <summary>Something has changed: whoever waits for a condition looks again.</summary>
internal sealed class Signal
{
    private static readonly TimeSpan Deadline = TimeSpan.FromSeconds(60);

    private readonly Lock _gate = new();
    private TaskCompletionSource _next = new(TaskCreationOptions.RunContinuationsAsynchronously);

    public void Changed()
    {
        TaskCompletionSource waiting;
        lock (_gate)
        {
            waiting = _next;
            _next = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        }

        waiting.SetResult();
    }

    /// <summary>Waits until a condition holds; fails at the deadline.</summary>
    public async Task Until(Func<bool> holds, string what)
    {
        using var deadline = new CancellationTokenSource(Deadline);
        while (true)
        {
            Task next;
            lock (_gate) next = _next.Task;
            if (holds()) return;
            try
            {
                await next.WaitAsync(deadline.Token);
            }
            catch (OperationCanceledException)
            {
                Assert.Fail($"Not within {Deadline}: {what}");
            }
        }
    }
}
