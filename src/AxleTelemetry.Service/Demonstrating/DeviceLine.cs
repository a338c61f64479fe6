using System.Threading.Channels;
using AxleTelemetry.Simulator.Days;

namespace AxleTelemetry.Service.Demonstrating;

/// <summary>What one device has still to send, in order and one at a time. It holds little: whoever brings more than is taken waits.</summary>
internal sealed class DeviceLine
{
    private const int Most = 64;

    private readonly Channel<Func<Task>> _waiting = Channel.CreateBounded<Func<Task>>(new BoundedChannelOptions(Most) { SingleReader = true, SingleWriter = true });
    private readonly Func<SentMessage, Task> _send;
    private readonly Task _work;

    /// <param name="send">Sends one message; done once it is acknowledged.</param>
    public DeviceLine(Func<SentMessage, Task> send)
    {
        _send = send;
        _work = Task.Run(WorkAsync);
    }

    /// <summary>Puts a message at the end; waits where too many stand there.</summary>
    public ValueTask AddAsync(SentMessage message, CancellationToken cancel) => _waiting.Writer.WriteAsync(() => _send(message), cancel);

    /// <summary>Waits until everything put in so far is acknowledged.</summary>
    public async Task UntilTaken(CancellationToken cancel)
    {
        var reached = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        await _waiting.Writer.WriteAsync(() => Task.FromResult(reached.TrySetResult()), cancel);
        await (await Task.WhenAny(reached.Task, _work)).WaitAsync(cancel);
    }

    /// <summary>Nothing more comes; done once the rest is acknowledged.</summary>
    public Task EndAsync()
    {
        _waiting.Writer.TryComplete();
        return _work;
    }

    private async Task WorkAsync()
    {
        try
        {
            await foreach (var send in _waiting.Reader.ReadAllAsync()) await send();
        }
        catch (Exception failed)
        {
            // Whoever brings the next message hears of it.
            _waiting.Writer.TryComplete(failed);
            throw;
        }
    }
}
