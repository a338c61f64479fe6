using AxleTelemetry.Messages.Recordings;

namespace AxleTelemetry.Service.Tests.Crashing;

/// <summary>The devices of all vehicles of a recording, at work beside each other.</summary>
internal sealed class Devices : IAsyncDisposable
{
    private readonly IReadOnlyList<RecordedMessage> _messages;
    private readonly List<ResendingDevice> _devices;
    private readonly CancellationTokenSource _stop = new();
    private readonly Task _running;

    public Devices(IReadOnlyList<RecordedMessage> messages, int port)
    {
        _messages = messages;
        _devices = ResendingDevice.Of(messages, port);
        _running = Task.WhenAll(_devices.Select(d => d.RunAsync(_stop.Token)));
    }

    /// <summary>Messages acknowledged.</summary>
    public int Acknowledged => _devices.Sum(d => d.Acknowledged);

    /// <summary>True where one was sent away, or not let in, by a service that was there.</summary>
    public bool AnyTurnedAway => _devices.Any(d => d.TurnedAway > 0);

    /// <summary>They may send so much of the recording.</summary>
    public void Allow(int messages)
    {
        var recorded = _messages.Take(messages).ToHashSet();
        foreach (var device in _devices) device.Allow(recorded);
    }

    /// <summary>Waits until everything that may be sent is acknowledged.</summary>
    public Task UntilAcknowledged() => Eventually.Holds(() => _running.IsFaulted || _devices.All(d => d.IsDone), () => $"{Acknowledged} of {_messages.Count} acknowledged");

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        try
        {
            await _running;
        }
        catch (OperationCanceledException) when (_stop.IsCancellationRequested)
        {
            // They had not sent everything.
        }

        _stop.Dispose();
    }
}
