using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Sharding;

/// <summary>
/// Steps the lanes and runs their history again. A lane in which a rule of ours breaks is stopped, loudly and alone: its
/// messages are still committed, and its history is run again once it is told to go on.
/// </summary>
internal sealed class LaneDesk(ShardState state)
{
    private readonly Dictionary<VehicleName, Moment> _marked = [];
    private readonly Dictionary<VehicleName, ImmutableArray<StreamMarks>> _members = [];
    private readonly HistoryChange _change = new();
    private (int Couplings, int Followed) _membersAt;
    private Correction? _running;
    private (VehicleName Unit, Exception Why)? _failed;

    /// <summary>Second runs finished.</summary>
    public long Corrected { get; private set; }

    /// <summary>True where nothing is to be corrected, but for lanes that stopped.</summary>
    public bool IsSettled => _running is null && state.History.ToBeCorrected.All(c => state.Stopped.ContainsKey(c.Unit));

    /// <summary>Takes what a batch of messages made due.</summary>
    public void Release(MessageDesk messages, BatchDraft draft)
    {
        foreach (var (unit, why) in messages.Broken) Stop(unit, why, draft);
        foreach (var unit in messages.Units) Release(unit, draft);
        foreach (var trailer in messages.Loose)
            if (state.History.NewestOf(trailer) is { } newest)
                state.History.PassOver(trailer, newest);
        if (messages.AnyLate) NoteMarks(draft);
    }

    /// <summary>Takes what has waited for long enough.</summary>
    public void Release(List<VehicleName> units, BatchDraft draft)
    {
        foreach (var unit in units) Release(unit, draft);
    }

    /// <summary>Takes everything that waits.</summary>
    public void ReleaseAll(BatchDraft draft)
    {
        foreach (var unit in state.History.Units.ToList())
        {
            var newest = Members(unit).Max(m => m.Newest);
            if (state.Releases.Owed(unit) is { } owed && (newest is null || owed > newest)) newest = owed;
            if (newest is { } end) Step(unit, end, draft);
        }

        state.Releases.Clear();
    }

    /// <summary>Notes in the batch what is to be corrected from when on.</summary>
    public void NoteMarks(BatchDraft draft)
    {
        foreach (var (unit, from) in state.History.ToBeCorrected)
        {
            // Only what came late itself waits anew: a unit must not wait because of another.
            if (state.History.TakeLate(unit)) state.Corrections.Late(unit, draft.Now);
            var mark = state.History.MarkOf(unit) ?? from;
            if (_marked.TryGetValue(unit, out var known) && known <= mark) continue;
            _marked[unit] = mark;
            draft.Add(new CorrectionMark.From(Codes.Of(unit), Usable(mark)));
        }
    }

    /// <summary>A stopped lane is to go on.</summary>
    public void Resume(VehicleName unit, BatchDraft draft)
    {
        state.Stopped.Remove(unit);
        state.Corrections.Succeeded(unit);
        draft.Touched.Add((unit, Codes.Stopped));
        draft.Add(new InputRow { Vehicle = Codes.Of(unit), Kind = Codes.ResumeInput, Received = draft.Now, Samples = SampleSpan.At(draft.Now), Bytes = [] });
    }

    /// <summary>True where there is something to run again now.</summary>
    public bool HasWork(Moment now) => _running is not null || Due(now) is not null;

    /// <summary>Runs a portion again. True where a second run has caught up and is to be finished.</summary>
    public bool Advance(Moment now)
    {
        if (_running is null && Due(now) is { } unit)
        {
            state.Corrections.Begun(unit);
            Guarded(unit, () => _running = state.History.Correct(unit));
        }

        if (_running is not { } running) return _failed is not null;
        var done = false;
        Guarded(running.Unit, () => done = running.Advance(state.Options.CorrectionPortion));
        return done || _failed is not null;
    }

    /// <summary>Puts the outcome of a second run into the batch.</summary>
    public void Finish(BatchDraft draft)
    {
        if (_running is { } running && _failed is null)
        {
            _change.Clear();
            if (Guarded(running.Unit, () => running.Finish(_change))) Take(running, draft);
        }

        _running = null;
        if (_failed is not { } failed) return;
        _failed = null;
        if (UnreadLog.Is(failed.Why)) Postpone(failed.Unit, failed.Why, draft);
        else Stop(failed.Unit, Reason(failed.Why), draft);
    }

    private void Take(Correction done, BatchDraft draft)
    {
        Corrected++;
        state.Corrections.Succeeded(done.Unit);
        draft.Add(_change);
        draft.Add(new CorrectionMark.Done(Codes.Of(done.Unit)));
        _marked.Remove(done.Unit);
        NoteMarks(draft);
        draft.Touched.Add((done.Unit, Codes.Unit));
        draft.Touched.Add((done.Unit, Codes.Pulse));
        state.AlertDesk.Corrected(done, draft);
        // A lane that was lost stood still meanwhile.
        Release(done.Unit, draft);
    }

    private VehicleName? Due(Moment now)
    {
        foreach (var (unit, _) in state.History.ToBeCorrected)
            if (!state.Stopped.ContainsKey(unit) && state.Corrections.IsDue(unit, now))
                return unit;
        return null;
    }

    private void Release(VehicleName unit, BatchDraft draft)
    {
        if (state.Releases.DueTo(unit, Members(unit), draft.Now.UnixMilliseconds) is { } to) Step(unit, to, draft);
    }

    /// <summary>How far the streams of a unit's vehicles have come, those that were heard of. Looked up anew when somebody was coupled or is heard for the first time.</summary>
    private ImmutableArray<StreamMarks> Members(VehicleName unit)
    {
        var known = (state.History.CouplingsTaken, state.CountFollowed);
        if (known != _membersAt) _members.Clear();
        _membersAt = known;
        if (_members.TryGetValue(unit, out var members)) return members;
        members = [.. state.History.MembersOf(unit).Select(state.Followed).OfType<FollowedVehicle>().Select(f => f.Marks)];
        _members.Add(unit, members);
        return members;
    }

    private void Step(VehicleName unit, long to, BatchDraft draft)
    {
        if (state.Stopped.ContainsKey(unit)) return;
        _change.Clear();
        try
        {
            state.Options.BeforeStep?.Invoke(unit);
            state.History.Release(unit, new Moment(to), _change);
        }
        catch (Exception unread) when (UnreadLog.Is(unread))
        {
            Postpone(unit, unread, draft);
            return;
        }
        catch (Exception broken) when (broken is not OutOfMemoryException)
        {
            Stop(unit, Reason(broken), draft);
            return;
        }

        draft.Touched.Add((unit, Codes.Pulse));
        draft.Add(_change);
        // Who took the trailer before it was known what was aboard began without it.
        if (_change.Parting.Any()) NoteMarks(draft);
        state.AlertDesk.Said(_change, draft);
    }

    private bool Guarded(VehicleName unit, Action work)
    {
        try
        {
            work();
            return true;
        }
        catch (Exception broken) when (broken is not OutOfMemoryException)
        {
            _failed = (unit, broken);
            return false;
        }
    }

    /// <summary>The log could not be read: nothing of ours is broken. What is to be run again stays marked, and is tried later.</summary>
    private void Postpone(VehicleName unit, Exception unread, BatchDraft draft)
    {
        state.History.PutOff(unit);
        state.Corrections.Failed(unit, unread.Message, draft.Now);
        draft.Touched.Add((unit, Codes.Pulse));
        NoteMarks(draft);
    }

    private void Stop(VehicleName unit, string why, BatchDraft draft)
    {
        state.Stopped[unit] = why;
        state.History.Rerun(unit);
        draft.Touched.Add((unit, Codes.Stopped));
        draft.Touched.Add((unit, Codes.Pulse));
        NoteMarks(draft);
    }

    private static string Reason(Exception broken) => $"{broken.GetType().Name}: {broken.Message}";

    // The journal keeps moments of samples only.
    private static Moment Usable(Moment mark) => mark.UnixMilliseconds < 0 ? new Moment(0) : mark;
}
