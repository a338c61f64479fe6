namespace AxleTelemetry.Service.Receiving;

/// <summary>Counts what happens between receipt and acknowledgement; with a hook, tells each step as well.</summary>
/// <param name="hook">Called in order on the thread that does the step; <c>null</c> where nobody listens.</param>
internal sealed class ReceiveTrace(Action<TraceEvent>? hook = null)
{
    private long _received, _receivedBytes, _redelivered, _atMostOnce, _refused, _denied;
    private long _batches, _committed, _commitFailures, _acknowledged, _dropped;
    private long _connections, _sessionsForgotten;

    /// <summary>Messages taken.</summary>
    public long Received => Volatile.Read(ref _received);

    /// <summary>Bytes of their payloads.</summary>
    public long ReceivedBytes => Volatile.Read(ref _receivedBytes);

    /// <summary>Messages taken that were marked as sent before.</summary>
    public long Redelivered => Volatile.Read(ref _redelivered);

    /// <summary>Messages taken at quality of service 0, which nobody sends again.</summary>
    public long AtMostOnce => Volatile.Read(ref _atMostOnce);

    /// <summary>Messages not taken because the intake was closed.</summary>
    public long Refused => Volatile.Read(ref _refused);

    /// <summary>Connections, messages and subscriptions that the access list did not allow.</summary>
    public long Denied => Volatile.Read(ref _denied);

    public long Batches => Volatile.Read(ref _batches);

    /// <summary>Messages committed.</summary>
    public long Committed => Volatile.Read(ref _committed);

    public long CommitFailures => Volatile.Read(ref _commitFailures);

    /// <summary>Acknowledgements handed to their connection.</summary>
    public long Acknowledged => Volatile.Read(ref _acknowledged);

    /// <summary>Acknowledgements dropped with their connection.</summary>
    public long AcknowledgementsDropped => Volatile.Read(ref _dropped);

    /// <summary>Connections made; the number of the latest.</summary>
    public long Connections => Volatile.Read(ref _connections);

    /// <summary>Times the broker had forgotten the session when we came back.</summary>
    public long SessionsForgotten => Volatile.Read(ref _sessionsForgotten);

    public void OnReceived(in Received message)
    {
        Interlocked.Increment(ref _received);
        Interlocked.Add(ref _receivedBytes, message.Payload.Length);
        if (message.Redelivered) Interlocked.Increment(ref _redelivered);
        if (message.Acknowledger is null) Interlocked.Increment(ref _atMostOnce);
        Tell(TraceStep.Received, message);
    }

    public void OnCommitted(IntakeBatch batch)
    {
        Interlocked.Increment(ref _batches);
        Interlocked.Add(ref _committed, batch.Messages.Length);
        if (hook is null) return;
        foreach (var message in batch.Messages) Tell(TraceStep.Committed, message);
    }

    public void OnAcknowledged(in Received message, bool written)
    {
        Interlocked.Increment(ref written ? ref _acknowledged : ref _dropped);
        Tell(written ? TraceStep.Acknowledged : TraceStep.Dropped, message);
    }

    public void OnRefused() => Interlocked.Increment(ref _refused);

    public void OnDenied() => Interlocked.Increment(ref _denied);

    public void OnCommitFailed() => Interlocked.Increment(ref _commitFailures);

    public void OnSessionForgotten() => Interlocked.Increment(ref _sessionsForgotten);

    /// <summary>Numbers a connection.</summary>
    public long NextConnection() => Interlocked.Increment(ref _connections);

    private void Tell(TraceStep step, in Received message) =>
        hook?.Invoke(new TraceEvent(step, message.Number, message.Acknowledger?.Connection ?? 0, message.PacketId, message.Redelivered));
}
