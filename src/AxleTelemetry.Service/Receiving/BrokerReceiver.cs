using Polly;
using Polly.Retry;

namespace AxleTelemetry.Service.Receiving;

/// <summary>
/// Receives from a broker into an intake for as long as it runs: one connection after the other, each with a client of its
/// own, and none while the intake takes nothing. The broker keeps what was not acknowledged.
/// </summary>
internal sealed class BrokerReceiver
{
    private readonly BrokerOptions _options;
    private readonly Intake _intake;
    private readonly ReceiveTrace _trace;
    private readonly TimeProvider _clock;
    private readonly Action<ReceiverNotice>? _tell;
    private readonly ResiliencePipeline<ConnectionEnd> _again;
    private ReceiverNotice _health = new ReceiverNotice.Starting();
    private bool _wasConnected;

    public BrokerReceiver(BrokerOptions options, Intake intake, ReceiveTrace trace, TimeProvider clock, Action<ReceiverNotice>? tell = null)
    {
        (_options, _intake, _trace, _clock, _tell) = (options, intake, trace, clock, tell);
        _again = new ResiliencePipelineBuilder<ConnectionEnd> { TimeProvider = clock }.AddRetry(new RetryStrategyOptions<ConnectionEnd>
        {
            ShouldHandle = tried => ValueTask.FromResult(tried.Outcome.Result is ConnectionEnd.Failed),
            MaxRetryAttempts = int.MaxValue,
            BackoffType = DelayBackoffType.Exponential,
            UseJitter = true,
            Delay = options.FirstWait,
            MaxDelay = options.LongestWait,
            OnRetry = tried =>
            {
                if (tried.Outcome.Result is ConnectionEnd.Failed failed) Tell(new ReceiverNotice.Troubled(failed.Trouble, tried.RetryDelay));
                return ValueTask.CompletedTask;
            },
        }).Build();
    }

    /// <summary>The latest change; with <see cref="Intake.State"/>, whether messages are being received and why not.</summary>
    public ReceiverNotice Health => Volatile.Read(ref _health);

    /// <summary>Runs until cancelled; then leaves the broker, which keeps the session.</summary>
    public async Task RunAsync(CancellationToken cancel)
    {
        while (!cancel.IsCancellationRequested)
        {
            try
            {
                await _intake.UntilAsync(taking: true, cancel);
                var end = await _again.ExecuteAsync(async stop => await StayAsync(stop), cancel);
                if (end is ConnectionEnd.Left left) Tell(new ReceiverNotice.Holding(_options.Address, left.Why));
                if (end is ConnectionEnd.Lost lost) Tell(new ReceiverNotice.Troubled(lost.Trouble, TimeSpan.Zero));
            }
            catch (OperationCanceledException) when (cancel.IsCancellationRequested)
            {
                break;
            }
        }

        Tell(new ReceiverNotice.Stopped());
    }

    private async Task<ConnectionEnd> StayAsync(CancellationToken stop)
    {
        using var connection = new BrokerConnection(_trace.NextConnection(), _options, _intake, _clock);
        var began = _clock.GetTimestamp();
        switch (await connection.OpenAsync(stop))
        {
            case ConnectAnswer.Refused refused:
                return new ConnectionEnd.Failed(refused.Trouble);
            case ConnectAnswer.Opened opened:
                Opened(connection, opened.SessionPresent);
                break;
        }

        using var end = CancellationTokenSource.CreateLinkedTokenSource(stop);
        var held = _intake.UntilAsync(taking: false, end.Token);
        await Task.WhenAny(connection.Lost, connection.TurnedAway, held);
        await end.CancelAsync();
        if (connection.Lost.IsCompleted)
        {
            var trouble = await connection.Lost;
            return _clock.GetElapsedTime(began) < _options.Settled ? new ConnectionEnd.Failed(trouble) : new ConnectionEnd.Lost(trouble);
        }

        await connection.LeaveAsync();
        return stop.IsCancellationRequested ? new ConnectionEnd.Stopped() : new ConnectionEnd.Left(_intake.State);
    }

    private void Opened(BrokerConnection connection, bool sessionPresent)
    {
        var forgotten = _wasConnected && !sessionPresent;
        if (forgotten) _trace.OnSessionForgotten();
        _wasConnected = true;
        Tell(new ReceiverNotice.Connected(_options.Address, connection.Connection, forgotten));
    }

    private void Tell(ReceiverNotice notice)
    {
        Volatile.Write(ref _health, notice);
        _tell?.Invoke(notice);
    }
}
