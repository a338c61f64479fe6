using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Service.Sharding;

/// <summary>
/// The unit of order and of commit. What is appended is computed once into a batch, which is then written, again and again if
/// need be, before anything else is computed. For one thread; without a clock, timers or tasks of its own.
/// </summary>
internal sealed class Shard
{
    private readonly IShardStore _store;
    private readonly BatchDraft _draft = new();
    private readonly MessageDesk _messages;
    private readonly LaneDesk _lanes;
    private readonly CheckpointDesk _checkpoints;
    private Batch? _made;
    private long _last;
    private Moment _tickedAt;

    private Shard(IShardStore store, ShardState state, long last)
    {
        (_store, State, _last) = (store, state, last);
        _messages = new MessageDesk(state);
        _lanes = new LaneDesk(state);
        _checkpoints = new CheckpointDesk(state);
    }

    /// <summary>What it knows.</summary>
    public ShardState State { get; }

    /// <summary>Number of the last batch that is committed.</summary>
    public long LastBatch => _made is null ? _last : _last - 1;

    /// <summary>Position of the last row that is committed.</summary>
    public Position Committed => new(LastBatch, Position.RowsPerBatch - 1);

    /// <summary>Messages taken since it was opened.</summary>
    public long Messages => _messages.Messages;

    /// <summary>Samples in them that count.</summary>
    public long Samples => _messages.Samples;

    /// <summary>Second runs of history finished since it was opened.</summary>
    public long Corrected => _lanes.Corrected;

    /// <summary>True where every committed reading is in the history in force: nothing waits, nothing is to be corrected.</summary>
    public bool IsSettled => _made is null && State.Releases.Waiting == 0 && _lanes.IsSettled;

    /// <summary>What lanes said in the batch made last, each with the vehicles it was said of.</summary>
    public IReadOnlyList<(ImmutableArray<LaneMember> Members, LaneOutput Output)> Said => _draft.Said;

    /// <summary>Second runs of history that the batch made last brought in force.</summary>
    public IReadOnlyList<Correction> Corrections => _draft.Corrected;

    /// <summary>A shard that nothing was ever appended to.</summary>
    public static Shard Begin(IShardStore store, ShardOptions options) => new(store, new ShardState(store, options), 0);

    /// <summary>A shard as a store holds it.</summary>
    public static Shard Restored(IShardStore store, ShardState state, long lastBatch) => new(store, state, lastBatch);

    /// <summary>Takes messages, in their order. What follows is to be written.</summary>
    public void Append(ImmutableArray<Received> messages, Moment now)
    {
        Begin(now);
        _messages.Begin();
        foreach (ref readonly var message in messages.AsSpan()) _messages.Take(message, _draft);
        _lanes.Release(_messages, _draft);
        Make();
    }

    /// <summary>From here on another configuration holds.</summary>
    public void Configure(FleetConfiguration next, Moment now)
    {
        Begin(now);
        ConfigurationDesk.Take(State, next, _draft);
        _messages.Forget();
        _lanes.NoteMarks(_draft);
        Make();
    }

    /// <summary>A person's action. Written only where it is taken.</summary>
    public ActionOutcome Act(AlertId alert, OperatorAction action, Moment now)
    {
        Begin(now);
        var step = State.AlertDesk.Act(alert, action, _draft);
        if (step.Refused is { } why)
        {
            _last--;
            return new ActionOutcome.Refused(why);
        }

        _draft.Add(ActionText.Row(alert, action, now));
        Make();
        return new ActionOutcome.Taken(State.Alerts.Find(alert)!, step.Changes);
    }

    /// <summary>Whom alerts reached, or did not. What is new of it is to be written.</summary>
    /// <returns>How many of the alerts are not kept any more.</returns>
    public int Contact(ImmutableArray<(string Alert, Contact Contact)> contacts, Moment now)
    {
        Begin(now);
        var unknown = 0;
        foreach (var (text, contact) in contacts)
        {
            if (State.Alerts.Find(text) is not { } alert) unknown++;
            else if (!State.AlertDesk.Contact(alert.Id, contact, _draft).Changes.IsEmpty) _draft.Add(ContactText.Row(alert.Id, contact, now));
        }

        MakeIfAny();
        return unknown;
    }

    /// <summary>A stopped lane runs again. False where none stopped; then there is nothing to write.</summary>
    public bool Resume(VehicleName unit, Moment now)
    {
        if (!State.Stopped.ContainsKey(unit)) return false;
        Begin(now);
        _lanes.Resume(unit, _draft);
        Make();
        return true;
    }

    /// <summary>What time brings: streams waited for long enough, and what alerts do by themselves. True where something is to be written.</summary>
    public bool Pass(Moment now)
    {
        var over = State.Releases.Over(now.UnixMilliseconds);
        var ticks = now.UnixMilliseconds - _tickedAt.UnixMilliseconds >= State.Options.Tick.TotalMilliseconds || now < _tickedAt;
        if (over.Count == 0 && !ticks) return false;
        Begin(now);
        _lanes.Release(over, _draft);
        if (ticks && State.AlertDesk.Tick(_draft) is { } vehicle) _draft.Add(Tick(vehicle, now));
        if (ticks) _tickedAt = now;
        return MakeIfAny();
    }

    /// <summary>Runs a portion of history again, where one is due. True where a second run is done and is to be written.</summary>
    public bool Correct(Moment now)
    {
        if (!_lanes.Advance(now)) return false;
        Begin(now);
        _lanes.Finish(_draft);
        Make();
        return true;
    }

    /// <summary>True where a second run of history waits for its next portion, or is due to begin.</summary>
    public bool HasToCorrect(Moment now) => _lanes.HasWork(now);

    /// <summary>Takes everything that waits for slower streams. True where something is to be written.</summary>
    public bool Flush(Moment now)
    {
        Begin(now);
        _lanes.ReleaseAll(_draft);
        return MakeIfAny();
    }

    /// <summary>The last batch of a clean stop: the lanes whole, so that the next start need run nothing again.</summary>
    public void Close(Moment now)
    {
        Begin(now);
        var whole = State.History.Units.Where(State.History.IsRestored).Select(_checkpoints.Whole);
        _made = _draft.Made([.. _checkpoints.Rows(_draft).Concat(whole)]);
    }

    /// <summary>Writes what was made; the same again after a failure.</summary>
    public WriteOutcome Write()
    {
        if (_made is not { } batch) return new WriteOutcome.Committed(0);
        var outcome = _store.Commit(batch);
        if (outcome is not WriteOutcome.Committed) return outcome;
        _made = null;
        State.Archive.Committed();
        return outcome;
    }

    private static InputRow Tick(VehicleName vehicle, Moment now) => new()
    {
        // A row of the whole shard would be kept for ever.
        Vehicle = Codes.Of(vehicle),
        Kind = Codes.TickInput,
        Received = now,
        Samples = SampleSpan.At(now),
        Bytes = [],
    };

    private void Begin(Moment now)
    {
        if (_made is not null) throw new InvalidOperationException("The batch before is not written yet.");
        _draft.Begin(++_last, now);
    }

    private void Make() => _made = _draft.Made(_checkpoints.Rows(_draft));

    private bool MakeIfAny()
    {
        if (_draft.IsEmpty) State.AlertDesk.GiveBack(--_last);
        else Make();
        return _made is not null;
    }
}
