using AxleTelemetry.Storage.Sqlite;
using Microsoft.Data.Sqlite;

namespace AxleTelemetry.Storage.Writing;

/// <summary>The one write connection: every transaction begins by checking that the shard still belongs to this epoch.</summary>
internal sealed class FencedWriter(string path, long epoch, Connection first) : IDisposable
{
    private Connection? connection = first;
    private WriteOutcome.Superseded? superseded;

    public long Epoch => epoch;

    /// <summary>Called in the transaction, before and after it is committed: what a test or a trace wants to see, or to break.</summary>
    public Action<CommitStage>? Trace { get; set; }

    public static void Configure(Connection connection)
    {
        connection.Run("PRAGMA journal_mode = WAL");
        connection.Run("PRAGMA synchronous = FULL");
        connection.Run("PRAGMA cache_size = -16384");
        connection.Run("PRAGMA journal_size_limit = 67108864");
    }

    /// <summary>Runs a body in one transaction. A body that throws leaves nothing behind.</summary>
    public WriteOutcome Run(Func<Connection, WriteOutcome.Committed> body)
    {
        if (superseded is not null) return superseded;
        try
        {
            var open = connection ??= Reopened();
            open.Begin();
            if (Newer(open) is { } newer)
            {
                open.Rollback();
                return superseded = newer;
            }

            var done = body(open);
            Trace?.Invoke(CommitStage.Written);
            open.Commit();
            Trace?.Invoke(CommitStage.Committed);
            return done;
        }
        catch (Exception e) when (e is SqliteException or IOException)
        {
            GiveUpConnection();
            return Failures.Outcome(e, path);
        }
        catch
        {
            GiveUpConnection();
            throw;
        }
    }

    /// <summary>Work that cannot stand in a transaction, on a best-effort basis: folding the log, giving pages back.</summary>
    public void Tidy(Action<Connection> body)
    {
        if (superseded is not null) return;
        try
        {
            body(connection ??= Reopened());
        }
        catch (Exception e) when (e is SqliteException or IOException)
        {
            // The next write meets the same trouble and says it; tidying alone loses nothing.
            GiveUpConnection();
        }
    }

    /// <summary>Whose the shard is now and its last batch; null when that cannot be read now.</summary>
    public (long Epoch, long Batch)? Owner()
    {
        try
        {
            var read = (connection ??= Reopened()).Sql("SELECT epoch, batch FROM owner");
            read.Step();
            var owner = (read.Long(0), read.Long(1));
            read.Reset();
            return owner;
        }
        catch (Exception e) when (e is SqliteException or IOException)
        {
            GiveUpConnection();
            return null;
        }
    }

    public void Dispose() => connection?.Dispose();

    private WriteOutcome.Superseded? Newer(Connection open)
    {
        var read = open.Sql("SELECT epoch FROM owner");
        read.Step();
        var now = read.Long(0);
        read.Reset();
        return now == epoch ? null : new WriteOutcome.Superseded(now);
    }

    private Connection Reopened()
    {
        // Never made anew: a file that vanished must not come back empty.
        if (!File.Exists(path)) throw new IOException("the journal is no longer there");
        var open = Connection.OpenForWriting(path);
        Configure(open);
        return open;
    }

    // After a failed write or sync the page cache of a connection is not to be trusted; a new one reads what the file holds.
    private void GiveUpConnection()
    {
        connection?.Dispose();
        connection = null;
    }
}
