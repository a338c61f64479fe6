using System.Buffers;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Inputs;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Service.Watching;

/// <summary>
/// A fleet that is watched: a shard in memory, messages in from one side, looked at from the other. A message is taken on the thread that
/// brings it, so that a slow reader of the output holds up the broker's hand-over and nothing piles up here.
/// </summary>
internal sealed class FleetWatch
{
    private readonly Lock _gate = new();
    private readonly MemoryStore _store = new();
    private readonly Shard _shard;
    private readonly WatchedFleets _fleets;
    private readonly WatchTelling _telling;
    private readonly WatchHorizon _horizon;
    private readonly IDisplay _display;
    private readonly TimeProvider _clock;
    private readonly SortedDictionary<FindingKind, long> _episodes = [];
    private Moment _now;

    /// <summary>Opens a watch that nothing has come to yet.</summary>
    public FleetWatch(FleetFiles files, WatchTuning tuning, IDisplay display, TimeProvider clock)
    {
        (_display, _clock) = (display, clock);
        _shard = Shard.Begin(_store, new ShardOptions { StreamWait = tuning.Wait, Horizon = WatchHorizon.Length });
        _fleets = new WatchedFleets(_shard, files, tuning.Coupled);
        _telling = new WatchTelling(_shard, _store, Tell);
        _horizon = new WatchHorizon(_shard.State, _store);
    }

    /// <summary>By our clock.</summary>
    public Moment Now => Codes.At(_clock.GetUtcNow());

    /// <summary>Messages that are held to put late ones in their place.</summary>
    public int Held => _store.Kept;

    /// <summary>Takes a message.</summary>
    /// <param name="topic">Its topic.</param>
    /// <param name="payload">Its bytes.</param>
    /// <param name="received">When it was received; <c>null</c> where a recording does not say.</param>
    public void Take(string topic, in ReadOnlySequence<byte> payload, Moment? received)
    {
        lock (_gate)
        {
            var at = received ?? Now;
            AdvanceTo(at);
            if (_fleets.Know(topic, _now)) Write();
            _shard.Append([new Received { Topic = topic, Payload = payload.ToArray(), At = DateTimeOffset.FromUnixTimeMilliseconds(at.UnixMilliseconds) }], _now);
            Write();
            Correct();
        }
    }

    /// <summary>Something that should have been a message was none.</summary>
    public void Refuse(Refusal refusal)
    {
        lock (_gate)
        {
            var at = _now == default ? Now : _now;
            _shard.State.Refusals.Add("", "", at, refusal);
            Tell(new FleetEvent.Refused(default, at, refusal));
        }
    }

    /// <summary>Time has passed by our clock.</summary>
    public void Advance()
    {
        lock (_gate) AdvanceTo(Now);
    }

    /// <summary>Says something about the watch itself.</summary>
    public void Note(string text)
    {
        lock (_gate) _display.Note(text);
    }

    /// <summary>Looks at the fleet while nothing moves.</summary>
    public T Look<T>(Func<Shard, T> look)
    {
        lock (_gate) return look(_shard);
    }

    /// <summary>Nothing more will come.</summary>
    public WatchSummary End()
    {
        lock (_gate)
        {
            if (_fleets.Any) Settle();
            return WatchSummary.Of(_shard, _episodes);
        }
    }

    private void AdvanceTo(Moment at)
    {
        if (at > _now) _now = at;
        if (!_fleets.Any) return;
        if (_shard.Pass(_now)) Write();
        Correct();
        _horizon.Sweep(_now);
    }

    private void Correct()
    {
        while (_shard.HasToCorrect(_now))
            if (_shard.Correct(_now)) Write();
    }

    // As time would have it: what waits for slower streams is taken, what came late is run again.
    private void Settle()
    {
        if (_shard.Flush(_now)) Write();
        for (var round = 0; round < 10 && !_shard.IsSettled; round++) AdvanceTo(_now.Plus(60));
    }

    private void Write()
    {
        if (_shard.Write() is not WriteOutcome.Committed) throw new InvalidOperationException("Memory takes every batch.");
        _telling.Told(_now);
    }

    private void Tell(FleetEvent happened)
    {
        if (happened is FleetEvent.Said { Output: LaneOutput.Episode { Change: EpisodeChange.Opened } episode }) Count(episode.Key.Kind, 1);
        if (happened is FleetEvent.Revised { Change: Revision.Found or Revision.FoundEnded } found) Count(found.Finding.Key.Kind, 1);
        if (happened is FleetEvent.Revised { Change: Revision.Withdrawn } gone) Count(gone.Finding.Key.Kind, -1);
        _display.Tell(happened);
    }

    private void Count(FindingKind kind, int more)
    {
        var count = _episodes.GetValueOrDefault(kind) + more;
        if (count == 0) _episodes.Remove(kind);
        else _episodes[kind] = count;
    }
}
