using System.Collections.Concurrent;
using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Service.Sharding;

/// <summary>
/// The thread of a shard: takes what waits in the intake as one batch, writes it until it is committed, lets it be acknowledged;
/// in between does what others want of it, what time brings, and runs late history again. Idle, it keeps house.
/// </summary>
internal sealed class ShardLoop(ShardPlace place, Intake intake, ReceiveTrace trace, TimeProvider clock) : IDisposable
{
    private static readonly TimeSpan Idle = TimeSpan.FromMilliseconds(250), Waiting = TimeSpan.FromMilliseconds(20), LongestPause = TimeSpan.FromSeconds(2);

    private readonly ConcurrentQueue<ShardJob> _jobs = new();
    private readonly CommitSignal _signal = new(place.Shard.Committed);
    private readonly ManualResetEventSlim _stop = new();
    private readonly Shard _shard = place.Shard;
    private Thread? _thread;
    private string? _untidy;
    private volatile LoopFigures _figures = LoopFigures.Of(place.Shard);
    // Answers whoever waits for what could not be written when the stop came: the last try decides.
    private Action<bool>? _undecided;
    private volatile string? _trouble, _ended, _over;

    /// <summary>Position of the last row committed.</summary>
    public Position Committed => _signal.Position;

    /// <summary>Connection to a broker elsewhere; <c>null</c> for the broker inside.</summary>
    public Func<ReceiverNotice?> Receiver { get; set; } = () => null;

    /// <summary>Devices at the broker inside; <c>null</c> for a broker elsewhere.</summary>
    public Func<int?> Devices { get; set; } = () => null;

    /// <summary>What is wrong with the files of the configuration.</summary>
    public Func<ImmutableArray<string>> ConfigurationErrors { get; set; } = () => [];

    /// <summary>Begins.</summary>
    public void Start()
    {
        _thread = new Thread(Run) { Name = $"shard {place.Name}", IsBackground = true };
        _thread.Start();
    }

    /// <summary>Hands in something to do.</summary>
    public void Add(ShardJob job)
    {
        _jobs.Enqueue(job);
        intake.Nudge();
        // The loop may have ended between the two: then nobody comes for it.
        if (_over is { } why) Refuse(why);
    }

    /// <summary>Waits until something after a position is committed.</summary>
    public Task UntilAfterAsync(Position seen, CancellationToken cancel) => _signal.UntilAfterAsync(seen, cancel);

    /// <summary>How it is.</summary>
    public ShardHealth Health()
    {
        var figures = _figures;
        return new ShardHealth
        {
            Intake = intake.State,
            HeldBytes = intake.HeldBytes,
            Receiver = Receiver(),
            Devices = Devices(),
            Batch = figures.Batch,
            CommittedAt = figures.CommittedAt,
            CommitTrouble = _trouble,
            IsShortOfRoom = place.Journal.IsShortOfRoom,
            JournalBytes = place.Journal.Bytes,
            Ended = _ended,
            Stopped = figures.Stopped,
            NotRead = figures.NotRead,
            ToBeCorrected = figures.ToBeCorrected,
            Corrected = figures.Corrected,
            IsSettled = figures.IsSettled && intake.HeldBytes == 0,
            ConfigurationErrors = ConfigurationErrors(),
            ConfigurationVersion = figures.ConfigurationVersion,
            Trace = trace,
            Messages = figures.Messages,
            Samples = figures.Samples,
            BatchMessages = figures.BatchMessages,
            CommitTime = figures.CommitTime,
        };
    }

    /// <summary>Stops cleanly: what was taken is committed, lanes are written whole. Blocks until it is done.</summary>
    public void Stop()
    {
        intake.End();
        _stop.Set();
        intake.Nudge();
        _thread?.Join();
    }

    public void Dispose() => _stop.Dispose();

    private Moment Now => Codes.At(clock.GetUtcNow());

    private void Run()
    {
        try
        {
            while (!_stop.IsSet && _ended is null) Turn();
            if (_ended is null) Close();
        }
        catch (Exception broken) when (broken is not OutOfMemoryException)
        {
            End($"Shard '{place.Name}' ended by a fault: {broken}");
        }

        Decide(written: false);
        _over = _ended ?? "The service stops.";
        Refuse(_over);
    }

    private void Turn()
    {
        // Before the first message: without a configuration nobody is known.
        while (!_stop.IsSet && _ended is null && _jobs.TryDequeue(out var job)) Do(job);
        if (_stop.IsSet || _ended is not null) return;
        var corrects = _shard.HasToCorrect(Now);
        var batch = intake.Next(corrects || !_jobs.IsEmpty ? TimeSpan.Zero : _shard.State.Releases.Waiting > 0 ? Waiting : Idle);
        if (batch is not null && !Take(batch)) return;
        if (_shard.Pass(Now) && !Write()) return;
        if (corrects && _shard.Correct(Now) && !Write()) return;
        Publish(batch?.Messages.Length);
        if ((batch is null && !corrects) || place.House.Waited(Now)) Keep(place.House.Keep);
    }

    private bool Take(IntakeBatch batch)
    {
        _shard.Append(batch.Messages, Now);
        if (!Write()) return false;
        intake.Committed(batch);
        return true;
    }

    private void Do(ShardJob job)
    {
        switch (job)
        {
            case ShardJob.Ask ask:
                ask.Question(_shard.State);
                break;
            case ShardJob.Act act:
                var outcome = _shard.Act(act.Alert, act.Action, Now);
                if (Write()) act.Done.TrySetResult(outcome);
                else _undecided = written => act.Done.TrySetResult(written ? outcome : new ActionOutcome.Unknown(NotKnown));
                break;
            case ShardJob.Contacts contacts:
                var unknown = _shard.Contact(contacts.All, Now);
                if (Write()) contacts.Done.TrySetResult(unknown);
                // Whether they were entered or not: entered again they change nothing.
                else contacts.Done.TrySetException(new ShardNotRunningException(place.Name, NotKnown));
                break;
            case ShardJob.Resume resume:
                if (!_shard.Resume(resume.Unit, Now)) resume.Done.TrySetResult(false);
                else if (Write()) Resumed(resume);
                else _undecided = written => Decide(resume, written);
                break;
            case ShardJob.Advance advance:
                if (Moved(advance) is WriteOutcome.Committed) advance.Done.TrySetResult();
                else advance.Done.TrySetException(new IOException($"The cursor '{advance.Cursor}' could not be moved: the journal does not take it."));
                break;
            case ShardJob.Configure configure when !_shard.State.Log.Any || configure.Next.Version != _shard.State.Configuration.Version:
                _shard.Configure(configure.Next, Now);
                if (Write()) place.Tell(new ShardNotice.Configured(place.Name, configure.Next.Version));
                break;
            case ShardJob.Configure:
                break;
            default:
                throw new InvalidOperationException("A job that nobody does.");
        }
    }

    private WriteOutcome Moved(ShardJob.Advance advance) => (advance.To, advance.UpTo) switch
    {
        ({ } to, { } upTo) => place.Journal.AdvanceAndClaim(advance.Cursor, to, upTo),
        ({ } to, null) => place.Journal.Advance(advance.Cursor, to),
        (null, { } upTo) => place.Journal.Claim(advance.Cursor, upTo),
        (null, null) => new WriteOutcome.Committed(0),
    };

    private void Resumed(ShardJob.Resume resume)
    {
        place.Tell(new ShardNotice.LaneResumed(place.Name, resume.Unit));
        resume.Done.TrySetResult(true);
    }

    private void Decide(ShardJob.Resume resume, bool written)
    {
        if (written) Resumed(resume);
        else resume.Done.TrySetException(new ShardNotRunningException(place.Name, NotKnown));
    }

    /// <summary>Writes until it is committed. False where it never will be: another owns the shard, or the service stops meanwhile.</summary>
    private bool Write()
    {
        var began = clock.GetTimestamp();
        for (var pause = Waiting; ; pause = pause * 2 < LongestPause ? pause * 2 : LongestPause)
        {
            switch (_shard.Write())
            {
                case WriteOutcome.Committed:
                    Committed_(clock.GetElapsedTime(began));
                    return true;
                case WriteOutcome.Superseded by:
                    End(FormattableString.Invariant($"Another process opened shard '{place.Name}' (epoch {by.ByEpoch}): this one stops, and writes nothing any more."));
                    return false;
                case WriteOutcome.DiskFull full:
                    Fail(full.Why);
                    Keep(place.House.MakeRoom);
                    break;
                case WriteOutcome.Failed failed:
                    Fail(failed.Why);
                    break;
                default:
                    throw new InvalidOperationException("An outcome of writing that nobody handles.");
            }

            AnswerQuestions();
            if (_stop.Wait(pause)) return false;
        }
    }

    private void Committed_(TimeSpan took)
    {
        if (_trouble is not null) place.Tell(new ShardNotice.CommitsWork(place.Name));
        _trouble = null;
        _figures = _figures with { CommittedAt = clock.GetUtcNow(), CommitTime = took };
        _signal.Advance(_shard.Committed);
    }

    private void Fail(string why)
    {
        if (_trouble is null) place.Tell(new ShardNotice.CommitsFail(place.Name, why));
        _trouble = why;
        intake.CommitFailed(why);
    }

    /// <summary>While commits fail questions are answered, and what would have to be written is not taken.</summary>
    private void AnswerQuestions()
    {
        for (var left = _jobs.Count; left > 0 && _jobs.TryDequeue(out var job); left--)
        {
            if (job is ShardJob.Ask ask) ask.Question(_shard.State);
            else if (job is ShardJob.Configure or ShardJob.Advance or ShardJob.Contacts) _jobs.Enqueue(job);
            else Refuse(job, _trouble ?? "");
        }
    }

    /// <summary>A journal that cannot be tidied, or read for it, still takes batches.</summary>
    private void Keep(Action<Moment> keep)
    {
        try
        {
            keep(Now);
        }
        catch (Exception failed) when (failed is not OutOfMemoryException)
        {
            if (_untidy != failed.Message) place.Tell(new ShardNotice.NotTidied(place.Name, failed.Message));
            _untidy = failed.Message;
        }
    }

    private void Publish(int? messages)
    {
        var before = _figures;
        var after = LoopFigures.Of(_shard) with { CommittedAt = before.CommittedAt, CommitTime = before.CommitTime, BatchMessages = messages ?? before.BatchMessages };
        foreach (var (unit, why) in after.Stopped)
            if (!before.Stopped.Contains((unit, why)))
                place.Tell(new ShardNotice.LaneStopped(place.Name, unit, why));
        foreach (var (unit, why) in after.NotRead)
            if (before.NotRead.All(n => n.Unit != unit))
                place.Tell(new ShardNotice.NotRead(place.Name, unit, why));
        _figures = after;
    }

    private void Close()
    {
        // What failed when the stop came is tried once more; nothing else can be computed before it.
        if (_shard.Write() is not WriteOutcome.Committed) return;
        Decide(written: true);
        for (var batch = intake.Next(TimeSpan.Zero); batch is not null; batch = intake.Next(TimeSpan.Zero))
            if (!Take(batch)) return;
        if (_shard.Flush(Now) && _shard.Write() is not WriteOutcome.Committed) return;
        _shard.Close(Now);
        _shard.Write();
    }

    private string NotKnown => $"The journal did not take it before the service stopped ({(_ended ?? _trouble ?? "it stops").TrimEnd('.')}). It may have been entered all the same: look how it stands once the service runs again, before you do it again.";

    private void Decide(bool written)
    {
        _undecided?.Invoke(written);
        _undecided = null;
    }

    private void End(string why)
    {
        _ended = why;
        intake.End();
        place.Tell(new ShardNotice.Ended(place.Name, why));
    }

    private void Refuse(string why)
    {
        while (_jobs.TryDequeue(out var job)) Refuse(job, why);
    }

    private void Refuse(ShardJob job, string why)
    {
        switch (job)
        {
            case ShardJob.Act act:
                act.Done.TrySetResult(new ActionOutcome.Unavailable(why));
                break;
            case ShardJob.Contacts contacts:
                contacts.Done.TrySetException(new ShardNotRunningException(place.Name, why));
                break;
            case ShardJob.Resume resume:
                resume.Done.TrySetException(new ShardNotRunningException(place.Name, why));
                break;
            case ShardJob.Advance advance:
                advance.Done.TrySetException(new ShardNotRunningException(place.Name, why));
                break;
            case ShardJob.Ask ask:
                // Whoever calls is not the shard's own thread, and there may be several.
                ask.Refused(why);
                break;
            case ShardJob.Configure:
                break;
            default:
                throw new InvalidOperationException("A job that nobody refuses.");
        }
    }
}
