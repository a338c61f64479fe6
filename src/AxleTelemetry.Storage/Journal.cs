using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Keeping;
using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sealing;
using AxleTelemetry.Storage.Sqlite;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Storage;

/// <summary>
/// The log of one shard: what came in and what followed from it, written batch by batch in one file by one owner. Used from one thread at a
/// time; every call is synchronous and returns when the disk has what it wrote. It has no clock of its own and understands no row.
/// </summary>
public sealed class Journal : IDisposable
{
    // Half a mebibyte at a time, 4 MiB per step of retention.
    private const string GiveBackSql = "PRAGMA incremental_vacuum(128)";
    private const int GiveBackSteps = 8;

    private readonly JournalFiles files;
    private readonly LockFile held;
    private readonly FencedWriter writer;
    private readonly BatchWriter batches;
    private readonly Reserve reserve;
    private readonly RetentionSweep sweep = new();
    private int inUse;

    internal Journal(JournalFiles files, JournalOptions options, LockFile held, FencedWriter writer)
    {
        (this.files, this.held, this.writer) = (files, held, writer);
        batches = new BatchWriter(options);
        reserve = new Reserve(files.Reserve, options.ReserveBytes);
        reserve.TryPut();
        sweep.Restart();
    }

    /// <summary>Raised by whoever opens the shard; a commit of an older one fails.</summary>
    public long Epoch => writer.Epoch;

    /// <summary>Whether the reserve file is given up: commits and sealing wait until it can be put back.</summary>
    public bool IsShortOfRoom => !reserve.IsThere;

    /// <summary>Bytes of the database and its log on the disk.</summary>
    public long Bytes => Length(files.Database) + Length(files.Log);

    internal Action<CommitStage>? Trace
    {
        set => writer.Trace = value;
    }

    /// <summary>Opens the journal of a shard, making it when there is none.</summary>
    public static JournalOpening Open(string directory, string shard, JournalOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        return Opener.Open(JournalFiles.Of(directory, shard), options);
    }

    /// <summary>The last batch that is in the journal, 0 for none; null when the file cannot be read now.</summary>
    public long? LastBatch() => Alone(() => writer.Owner()?.Batch);

    /// <summary>
    /// Writes a batch in one transaction. A batch whose number is already there writes nothing and counts as committed; whoever writes a
    /// batch again writes the same rows.
    /// </summary>
    /// <exception cref="ArgumentException">The batch leaves a gap in the numbers.</exception>
    public WriteOutcome Commit(Batch batch)
    {
        ArgumentNullException.ThrowIfNull(batch);
        if (batch.Numbered > Position.RowsPerBatch) throw new ArgumentException("A batch has more rows than can be numbered.", nameof(batch));
        return Alone(() => WithRoom(() => Decided(batch, Write(c => batches.Write(c, batch)))));
    }

    /// <summary>Seals inputs of one vehicle and hour that were received before a moment. For idle time; repeat while there is more.</summary>
    public WriteOutcome Seal(Moment receivedBefore) => Alone(() => WithRoom(() => Write(c => Sealer.Step(c, receivedBefore))));

    /// <summary>Deletes a little of what a plan lets go. Works on a full disk too, in the room of the reserve; repeat while there is more.</summary>
    public WriteOutcome Retain(RetentionPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return Alone(() =>
        {
            var outcome = Write(c => sweep.Step(c, plan));
            if (outcome is not WriteOutcome.Committed done) sweep.Restart();
            else if (done.Rows > 0 || !done.More) writer.Tidy(GiveBack);
            return outcome;
        });
    }

    /// <summary>Moves a cursor forward, making it when there is none; the gap it had is then accounted for.</summary>
    public WriteOutcome Advance(string cursor, Position to)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(cursor);
        return Alone(() => Write(c => new WriteOutcome.Committed(Advance(c, cursor, to))));
    }

    /// <summary>
    /// Says how far whoever moves a cursor may have carried before it moves: of rows that change from now on, what stood up to there is kept beside them. To be
    /// called before reading what is to be carried, and to be read up to there only.
    /// </summary>
    public WriteOutcome Claim(string cursor, Position upTo)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(cursor);
        return Alone(() => Write(c => new WriteOutcome.Committed(Claim(c, cursor, upTo))));
    }

    /// <summary>Moves a cursor forward and claims what is carried next, in one: for who carries without a rest, half of the commits.</summary>
    public WriteOutcome AdvanceAndClaim(string cursor, Position to, Position upTo)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(cursor);
        return Alone(() => Write(c => new WriteOutcome.Committed(Advance(c, cursor, to) + Claim(c, cursor, upTo))));
    }

    /// <summary>Forgets a cursor whose reader is no more: it would hold rows for ever.</summary>
    public WriteOutcome Forget(string cursor) =>
        Alone(() => Write(c => new WriteOutcome.Committed(c.Sql("DELETE FROM claim WHERE cursor = ?1").Bind(1, cursor).Run() + c.Sql("DELETE FROM cursor WHERE name = ?1").Bind(1, cursor).Run())));

    /// <summary>A reader with a connection of its own.</summary>
    public JournalReader Reader() => JournalReader.Open(files);

    /// <summary>Closes the file, folding its log, and lets the next owner in.</summary>
    public void Dispose()
    {
        writer.Dispose();
        held.Dispose();
    }

    private static int Advance(Connection connection, string cursor, Position to) => connection.Sql("""
        INSERT INTO cursor(name, position, missed, missed_in_all) VALUES(?1, ?2, 0, 0)
        ON CONFLICT(name) DO UPDATE SET position = max(position, ?2), missed = 0
        """).Bind(1, cursor).Bind(2, to.Stored).Run();

    private static int Claim(Connection connection, string cursor, Position upTo)
    {
        // Whoever claims is a reader already, though its cursor has not moved yet: what is void meanwhile must stay until it has passed.
        connection.Sql("INSERT INTO cursor(name, position, missed, missed_in_all) VALUES(?1, 0, 0, 0) ON CONFLICT DO NOTHING").Bind(1, cursor).Run();
        return connection.Sql("INSERT INTO claim(cursor, upto) VALUES(?1, ?2) ON CONFLICT(cursor) DO UPDATE SET upto = max(upto, ?2)").Bind(1, cursor).Bind(2, upTo.Stored).Run();
    }

    private static long Length(string path) => new FileInfo(path) is { Exists: true } file ? file.Length : 0;

    // Without this a commit would eat the reserve bit by bit, and nothing were left for a clean stop.
    private WriteOutcome WithRoom(Func<WriteOutcome> write) => reserve.IsThere || reserve.TryPut()
        ? write()
        : new WriteOutcome.DiskFull("The disk has no room to put the reserve back.");

    private WriteOutcome Write(Func<Connection, WriteOutcome.Committed> body)
    {
        var committed = false;
        try
        {
            var outcome = writer.Run(body);
            committed = outcome is WriteOutcome.Committed;
            if (outcome is WriteOutcome.DiskFull) reserve.GiveUp();
            return outcome;
        }
        finally
        {
            if (!committed) batches.Forget();
        }
    }

    /// <summary>An error may come after the commit: the file says which. A newer owner may have used the number since.</summary>
    private WriteOutcome Decided(Batch batch, WriteOutcome outcome)
    {
        if (outcome is not (WriteOutcome.Failed or WriteOutcome.DiskFull) || writer.Owner() is not { } owner) return outcome;
        if (owner.Epoch != Epoch) return new WriteOutcome.Superseded(owner.Epoch);
        return owner.Batch >= batch.Number ? new WriteOutcome.Committed(batch.Rows) : outcome;
    }

    // On a full disk even giving pages back needs room in the log: so little at a time, and the log is folded before and after.
    private void GiveBack(Connection connection)
    {
        for (var step = 0; step < GiveBackSteps; step++)
        {
            if (IsShortOfRoom) connection.Sql("PRAGMA wal_checkpoint(TRUNCATE)").Run();
            connection.Sql(GiveBackSql).Run();
        }

        if (IsShortOfRoom) connection.Sql("PRAGMA wal_checkpoint(TRUNCATE)").Run();
    }

    private T Alone<T>(Func<T> work)
    {
        if (Interlocked.Exchange(ref inUse, 1) == 1) throw new InvalidOperationException("A journal is used from one thread at a time.");
        try
        {
            return work();
        }
        finally
        {
            Volatile.Write(ref inUse, 0);
        }
    }
}
