using System.Collections.Concurrent;
using System.Collections.Immutable;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Sharding;

/// <summary>What others may ask of a shard that runs on a thread of its own, and do to it. For any thread.</summary>
internal sealed class ShardDesk(string name, ImmutableArray<string> fleets, ShardLoop loop, Func<JournalReader> open) : IDisposable
{
    private readonly ConcurrentBag<JournalReader> _readers = [];

    /// <summary>The shard.</summary>
    public string Name => name;

    /// <summary>Its fleets.</summary>
    public ImmutableArray<string> Fleets => fleets;

    /// <summary>How it is; cheap.</summary>
    public ShardHealth Health => loop.Health();

    /// <summary>How its history is carried to the series; <c>null</c> where it is not.</summary>
    public Func<Series.SeriesState?> Series { get; set; } = () => null;

    /// <summary>Position of the last row committed.</summary>
    public Position Committed => loop.Committed;

    /// <summary>Asks on the shard's own thread, between two batches; the answer must not hold parts of the state that change.</summary>
    /// <exception cref="ShardNotRunningException">The shard has ended.</exception>
    public Task<T> AskAsync<T>(Func<ShardState, T> question, CancellationToken cancel)
    {
        var answer = new TaskCompletionSource<T>(TaskCreationOptions.RunContinuationsAsynchronously);
        loop.Add(new ShardJob.Ask(state =>
        {
            if (cancel.IsCancellationRequested) answer.TrySetCanceled(cancel);
            else
            {
                try
                {
                    answer.TrySetResult(question(state));
                }
                catch (Exception failed) when (failed is not OutOfMemoryException)
                {
                    answer.TrySetException(failed);
                }
            }
        }, why => answer.TrySetException(new ShardNotRunningException(name, why))));
        return answer.Task.WaitAsync(cancel);
    }

    /// <summary>A person's action, committed before this returns.</summary>
    public Task<ActionOutcome> ActAsync(AlertId alert, OperatorAction action, CancellationToken cancel)
    {
        var done = new TaskCompletionSource<ActionOutcome>(TaskCreationOptions.RunContinuationsAsynchronously);
        loop.Add(new ShardJob.Act(alert, action, done));
        return done.Task.WaitAsync(cancel);
    }

    /// <summary>Whom alerts reached, or did not: committed before this returns. What was entered before changes nothing.</summary>
    /// <returns>How many of these alerts are not kept any more.</returns>
    /// <exception cref="ShardNotRunningException">The shard has ended.</exception>
    public Task<int> ContactAsync(ImmutableArray<(string Alert, Contact Contact)> contacts, CancellationToken cancel)
    {
        var done = new TaskCompletionSource<int>(TaskCreationOptions.RunContinuationsAsynchronously);
        loop.Add(new ShardJob.Contacts(contacts, done));
        return done.Task.WaitAsync(cancel);
    }

    /// <summary>A cursor has come to a position; written before this returns.</summary>
    public Task AdvanceAsync(string cursor, Position to, CancellationToken cancel) => MarkAsync(done => new ShardJob.Advance(cursor, to, null, done), cancel);

    /// <summary>Says how far may be carried before the cursor moves; done when it is in the journal.</summary>
    /// <param name="cursor">The cursor.</param>
    /// <param name="upTo">How far.</param>
    /// <param name="carried">How far it has come meanwhile, written in one with it; <c>null</c> where it has not moved.</param>
    /// <param name="cancel">Gives up waiting.</param>
    public Task ClaimAsync(string cursor, Position upTo, Position? carried, CancellationToken cancel) => MarkAsync(done => new ShardJob.Advance(cursor, carried, upTo, done), cancel);

    /// <summary>Runs a stopped vehicle's lane again. False where it was not stopped.</summary>
    public Task<bool> ResumeAsync(VehicleName unit, CancellationToken cancel)
    {
        var done = new TaskCompletionSource<bool>(TaskCreationOptions.RunContinuationsAsynchronously);
        loop.Add(new ShardJob.Resume(unit, done));
        return done.Task.WaitAsync(cancel);
    }

    /// <summary>Waits until something after a position is committed.</summary>
    public Task UntilAfterAsync(Position seen, CancellationToken cancel) => loop.UntilAfterAsync(seen, cancel);

    /// <summary>Reads the journal on a rented connection, on the caller's thread.</summary>
    public T Read<T>(Func<JournalReader, T> read)
    {
        if (!_readers.TryTake(out var reader)) reader = open();
        try
        {
            return read(reader);
        }
        finally
        {
            _readers.Add(reader);
        }
    }

    /// <summary>Closes the readers.</summary>
    public void Dispose()
    {
        while (_readers.TryTake(out var reader)) reader.Dispose();
    }

    private Task MarkAsync(Func<TaskCompletionSource, ShardJob> job, CancellationToken cancel)
    {
        var done = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        loop.Add(job(done));
        return done.Task.WaitAsync(cancel);
    }
}
