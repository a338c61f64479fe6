using System.Collections.Immutable;
using System.Runtime.InteropServices;

namespace AxleTelemetry.Service.Receiving;

/// <summary>
/// Where received messages wait for their commit. Any thread puts them in and never waits; one consumer takes them out in
/// batches: while it commits one, the next gathers. The bound is on bytes taken and not yet committed, as brokers send
/// more than they were asked to and the MQTT client queues it without a bound.
/// </summary>
internal sealed class Intake(IntakeOptions options, ReceiveTrace trace, TimeProvider clock)
{
    private static readonly IntakeState Open = new IntakeState.Taking();

    private readonly Lock _gate = new();
    private readonly SemaphoreSlim _some = new(0, 1);
    private readonly Queue<Received> _waiting = new();
    private bool _signalled, _ended;
    private long _taken, _held;
    private (long Stamp, DateTimeOffset At)? _failing;
    private IntakeState _state = Open;
    private TaskCompletionSource _changed = new(TaskCreationOptions.RunContinuationsAsynchronously);

    /// <summary>Whether messages are taken now.</summary>
    public IntakeState State => Volatile.Read(ref _state);

    /// <summary>Bytes taken and not yet committed.</summary>
    public long HeldBytes => Volatile.Read(ref _held);

    /// <summary>Takes a message, or not: then it must not be acknowledged, nor any later one of its connection.</summary>
    public bool TryTake(in Received message)
    {
        var at = clock.GetUtcNow();
        Received taken;
        bool signal;
        lock (_gate)
        {
            if (_held + message.Bytes > options.MostBytes && _state == Open) Become(new IntakeState.Full(_held));
            if (_state != Open || _ended)
            {
                trace.OnRefused();
                return false;
            }

            taken = message with { Number = ++_taken, At = at };
            _held += taken.Bytes;
            // Traced before anyone can take it out, so that a trace never shows a commit before its receipt.
            trace.OnReceived(taken);
            _waiting.Enqueue(taken);
            signal = !_signalled;
            _signalled = true;
        }

        if (signal) _some.Release();
        return true;
    }

    /// <summary>Waits for at least one message and takes all that wait, up to the limits of a batch. <c>null</c> at the end.</summary>
    public async ValueTask<IntakeBatch?> NextAsync(CancellationToken cancel)
    {
        await _some.WaitAsync(cancel).ConfigureAwait(false);
        return Gathered();
    }

    /// <summary>As <see cref="NextAsync"/>, for a consumer with a thread of its own.</summary>
    public IntakeBatch? Next(CancellationToken cancel)
    {
        _some.Wait(cancel);
        return Gathered();
    }

    /// <summary>
    /// As <see cref="NextAsync"/>, for a consumer with a thread of its own that has other things to do as well: <c>null</c> also where
    /// nothing came in time, or it was called by <see cref="Nudge"/>.
    /// </summary>
    public IntakeBatch? Next(TimeSpan atMost) => _some.Wait(atMost) ? Gathered() : null;

    /// <summary>Wakes the consumer although no message came.</summary>
    public void Nudge()
    {
        bool signal;
        lock (_gate)
        {
            signal = !_signalled;
            _signalled = true;
        }

        if (signal) _some.Release();
    }

    /// <summary>The consumer has committed a batch: its messages are acknowledged, in the order received, and forgotten.</summary>
    public void Committed(IntakeBatch batch)
    {
        trace.OnCommitted(batch);
        Acknowledge(batch.Messages);
        lock (_gate)
        {
            _held -= batch.Bytes;
            _failing = null;
            if (_state is IntakeState.CommitsFailing || (_state is IntakeState.Full && _held <= options.MostBytes / 2)) Become(Open);
        }
    }

    /// <summary>The consumer could not commit and will try the same batch again.</summary>
    public void CommitFailed(string why)
    {
        trace.OnCommitFailed();
        lock (_gate)
        {
            _failing ??= (clock.GetTimestamp(), clock.GetUtcNow());
            if (clock.GetElapsedTime(_failing.Value.Stamp) >= options.Patience && _state is not IntakeState.CommitsFailing)
                Become(new IntakeState.CommitsFailing(_failing.Value.At, why));
        }
    }

    /// <summary>Nothing more is taken; what waits is still handed out.</summary>
    public void End()
    {
        bool signal;
        lock (_gate)
        {
            _ended = true;
            signal = !_signalled;
            _signalled = true;
        }

        if (signal) _some.Release();
    }

    /// <summary>Waits until messages are taken, or until they are not.</summary>
    public async Task UntilAsync(bool taking, CancellationToken cancel)
    {
        while (true)
        {
            Task changed;
            lock (_gate)
            {
                if (_state == Open == taking) return;
                changed = _changed.Task;
            }

            await changed.WaitAsync(cancel).ConfigureAwait(false);
        }
    }

    private IntakeBatch? Gathered()
    {
        IntakeBatch? batch = null;
        bool more;
        lock (_gate)
        {
            if (_waiting.Count > 0) batch = Gather();
            more = _waiting.Count > 0 || _ended;
            _signalled = more;
        }

        if (more) _some.Release();
        return batch;
    }

    private IntakeBatch Gather()
    {
        var messages = new Received[Math.Min(_waiting.Count, options.BatchMessages)];
        var count = 0;
        long bytes = 0;
        while (count < messages.Length && (count == 0 || bytes + _waiting.Peek().Bytes <= options.BatchBytes))
        {
            messages[count] = _waiting.Dequeue();
            bytes += messages[count++].Bytes;
        }

        return new IntakeBatch(ImmutableCollectionsMarshal.AsImmutableArray(count == messages.Length ? messages : messages[..count]), bytes);
    }

    private void Acknowledge(ImmutableArray<Received> messages)
    {
        IAcknowledger? last = null;
        foreach (ref readonly var message in messages.AsSpan())
        {
            if (message.Acknowledger is not { } acknowledger) continue;
            if (last is not null && last != acknowledger) last.Flush();
            last = acknowledger;
            trace.OnAcknowledged(message, acknowledger.Acknowledge(message.PacketId));
        }

        last?.Flush();
    }

    private void Become(IntakeState state)
    {
        _state = state;
        var changed = _changed;
        _changed = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        changed.SetResult();
    }
}
