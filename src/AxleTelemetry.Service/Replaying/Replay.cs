using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Service.Replaying;

/// <summary>Runs a recording through a shard of its own, in memory: what a service would have made of it, by the same code.</summary>
internal sealed class Replay
{
    private const int BatchMessages = 1000;
    private const double BatchSeconds = 10;

    private readonly MemoryStore _store = new();
    private readonly ImmutableArray<Received>.Builder _batch = ImmutableArray.CreateBuilder<Received>(BatchMessages);
    private readonly FleetConfiguration _configuration;
    private readonly TimeProvider _clock;
    private readonly Dictionary<RefusalReason, long> _unreadable = [];
    private Moment? _first;
    private Moment _now;

    /// <param name="configuration">Holds from the beginning to the end.</param>
    /// <param name="clock">For messages of which the recording does not say when they were received.</param>
    public Replay(FleetConfiguration configuration, TimeProvider clock)
    {
        (_configuration, _clock) = (configuration, clock);
        Shard = Shard.Begin(_store, new ShardOptions());
    }

    /// <summary>The shard.</summary>
    public Shard Shard { get; }

    /// <summary>What it left behind.</summary>
    public MemoryStore Store => _store;

    /// <summary>When the first message was received; <c>null</c> where there was none.</summary>
    public Moment? First => _first;

    /// <summary>When the last message was received.</summary>
    public Moment Last { get; private set; }

    /// <summary>Lines of the recording that hold no message, by reason.</summary>
    public IReadOnlyDictionary<RefusalReason, long> Unreadable => _unreadable;

    /// <summary>Runs a recording to its end, or until cancelled.</summary>
    /// <param name="recording">The recording.</param>
    /// <param name="progress">Told after each batch, and of each line that holds no message.</param>
    /// <param name="cancel">Ends it; what was run until then stands.</param>
    public void Run(Stream recording, ReplayProgress progress, CancellationToken cancel)
    {
        foreach (var entry in new RecordingReader(recording).Entries())
        {
            if (cancel.IsCancellationRequested) break;
            switch (entry)
            {
                case RecordingEntry.Read { Message: var message }:
                    Take(message, progress);
                    break;
                case RecordingEntry.Unreadable unreadable:
                    _unreadable[unreadable.Refusal.Reason] = _unreadable.GetValueOrDefault(unreadable.Refusal.Reason) + 1;
                    progress.Tell(unreadable);
                    break;
                default:
                    throw new InvalidOperationException("An entry of a recording that nobody handles.");
            }
        }

        End();
    }

    /// <summary>Takes one message.</summary>
    public void Take(RecordedMessage message, ReplayProgress? progress = null)
    {
        var received = message.Received is { } at ? DateTimeOffset.FromUnixTimeMilliseconds(at.UnixMilliseconds) : _clock.GetUtcNow();
        if (_first is null) Begin(Codes.At(received));
        if (_batch.Count > 0 && (_batch.Count == BatchMessages || Codes.At(received).SecondsSince(Codes.At(_batch[0].At)) >= BatchSeconds)) Append(progress);
        _batch.Add(new Received { Topic = message.Topic, Payload = message.Payload, At = received });
    }

    /// <summary>What was taken is run, though its batch could take more.</summary>
    public void Catch()
    {
        if (_batch.Count > 0) Append(null);
    }

    /// <summary>Nothing more comes: everything that waits is run.</summary>
    public void End()
    {
        Catch();
        if (_first is not null) Settle();
    }

    private void Begin(Moment at)
    {
        (_first, _now) = (at, at);
        Shard.Configure(_configuration, at);
        Write();
    }

    private void Append(ReplayProgress? progress)
    {
        Last = Codes.At(_batch[^1].At);
        if (Last > _now) _now = Last;
        Shard.Append(_batch.ToImmutable(), _now);
        _batch.Clear();
        Write();
        Pass();
        progress?.Tell(this);
    }

    private void Pass()
    {
        if (Shard.Pass(_now)) Write();
        while (Shard.HasToCorrect(_now))
            if (Shard.Correct(_now)) Write();
    }

    // As time would have it: what waits for slower streams is taken, what came late is run again.
    private void Settle()
    {
        if (Shard.Flush(_now)) Write();
        for (var round = 0; round < 10 && !Shard.IsSettled; round++)
        {
            _now = _now.Plus(60);
            Pass();
        }
    }

    private void Write()
    {
        if (Shard.Write() is not WriteOutcome.Committed) throw new InvalidOperationException("Memory takes every batch.");
    }
}
