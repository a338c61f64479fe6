using AxleTelemetry.Storage.Sqlite;
using AxleTelemetry.Storage.Writing;
using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace AxleTelemetry.Storage.Opening;

/// <summary>The way to an open journal: directory, lock, a look that writes nothing, then migration, epoch, reserve.</summary>
internal static class Opener
{
    public static JournalOpening Open(JournalFiles files, JournalOptions options)
    {
        LockFile? held = null;
        try
        {
            Directory.CreateDirectory(files.Directory);
            held = LockFile.Take(files, DateTimeOffset.UtcNow);
            if (held is null) return new JournalOpening.InUse(LockFile.OwnerOf(files));
            var opening = Open(files, options, held);
            if (opening is JournalOpening.Opened) held = null;
            return opening;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return new JournalOpening.NotWritable(files.Directory, e.Message);
        }
        catch (SqliteException e)
        {
            return e.SqliteErrorCode is raw.SQLITE_CORRUPT or raw.SQLITE_NOTADB
                ? new JournalOpening.Corrupt(files.Database, e.Message)
                : new JournalOpening.NotWritable(files.Database, e.Message);
        }
        finally
        {
            held?.Dispose();
        }
    }

    private static JournalOpening Open(JournalFiles files, JournalOptions options, LockFile held) => Probe.Look(files, options.CheckWholeUpTo) switch
    {
        Probe.Corrupt corrupt => new JournalOpening.Corrupt(files.Database, corrupt.Why),
        Probe.TooNew newer => new JournalOpening.TooNew(files.Database, newer.Version, Schema.Version),
        Probe.Absent or Probe.Sound => new JournalOpening.Opened(Made(files, options, held)),
        var other => throw new InvalidOperationException($"unknown probe {other}"),
    };

    private static Journal Made(JournalFiles files, JournalOptions options, LockFile held)
    {
        var connection = Connection.OpenForWriting(files.Database);
        try
        {
            Prepare(connection, files.Shard);
            var epoch = RaiseEpoch(connection);
            return new Journal(files, options, held, new FencedWriter(files.Database, epoch, connection));
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    private static void Prepare(Connection connection, string shard)
    {
        // Both go into the first page before the log is switched on: a crash right here leaves a file that still says whose it is.
        if (connection.Number("PRAGMA user_version") == 0)
        {
            connection.Run("PRAGMA auto_vacuum = INCREMENTAL");
            connection.Run($"PRAGMA application_id = {Schema.ApplicationId}");
        }

        FencedWriter.Configure(connection);
        Schema.Migrate(connection, Schema.Steps);
        connection.Sql("INSERT INTO owner(one, shard, epoch, batch) VALUES(1, ?1, 0, 0) ON CONFLICT DO NOTHING").Bind(1, shard).Run();
    }

    private static long RaiseEpoch(Connection connection) => connection.Number("UPDATE owner SET epoch = epoch + 1 RETURNING epoch");
}
