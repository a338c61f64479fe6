using System.Collections.Immutable;

namespace AxleTelemetry.Service.Tests.Watching;

/// <summary>Lines that a process writes, to wait for.</summary>
internal sealed class Lines
{
    private static readonly TimeSpan Deadline = TimeSpan.FromSeconds(60);

    private readonly Lock _gate = new();
    private readonly List<string> _lines = [];
    private TaskCompletionSource _more = new(TaskCreationOptions.RunContinuationsAsynchronously);

    public ImmutableArray<string> All
    {
        get
        {
            lock (_gate) return [.. _lines];
        }
    }

    public void Add(string? line)
    {
        if (line is null) return;
        TaskCompletionSource waiting;
        lock (_gate)
        {
            _lines.Add(line);
            waiting = _more;
            _more = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        }

        waiting.SetResult();
    }

    /// <summary>Waits until a line holds a text; fails with all lines at the deadline.</summary>
    public async Task Until(string text, int times = 1)
    {
        using var deadline = new CancellationTokenSource(Deadline);
        while (true)
        {
            Task more;
            lock (_gate)
            {
                if (_lines.Count(line => line.Contains(text, StringComparison.Ordinal)) >= times) return;
                more = _more.Task;
            }

            try
            {
                await more.WaitAsync(deadline.Token);
            }
            catch (OperationCanceledException)
            {
                Assert.Fail($"'{text}' did not come. What came:\n{string.Join('\n', All)}");
            }
        }
    }
}
