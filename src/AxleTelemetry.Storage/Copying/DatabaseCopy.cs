using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Sqlite;
using Microsoft.Data.Sqlite;

namespace AxleTelemetry.Storage.Copying;

/// <summary>A copy of a database file, as it stands at one moment, while others write to it.</summary>
public static class DatabaseCopy
{
    /// <summary>
    /// Copies page by page within one read of the source: writers go on meanwhile, and what they write is not in the copy. Returns when the disk has it.
    /// The source's log grows until then.
    /// </summary>
    /// <param name="from">A database of any program, a journal or not.</param>
    /// <param name="to">The copy, which must not be there yet.</param>
    /// <exception cref="SqliteException">The source cannot be read, or the copy cannot be written.</exception>
    public static void Take(string from, string to)
    {
        using var source = new SqliteConnection(Text(from, SqliteOpenMode.ReadOnly));
        using var copy = new SqliteConnection(Text(to, SqliteOpenMode.ReadWriteCreate));
        source.Open();
        copy.Open();
        source.BackupDatabase(copy);
    }

    /// <summary>Reads every page of a copy. Nobody else may have it open; it is one file afterwards, without a log beside it.</summary>
    public static DatabaseStanding Look(string path)
    {
        try
        {
            using var connection = Connection.OpenForWriting(path);
            if (connection.Text("PRAGMA quick_check(1)") is var check && check != "ok") return new DatabaseStanding.Damaged(check.ReplaceLineEndings(" "));
            if (connection.Number("PRAGMA application_id") != Schema.ApplicationId) return new DatabaseStanding.Sound();
            return connection.Number("PRAGMA user_version") is var version && version != Schema.Version
                ? new DatabaseStanding.OtherVersion(version, Schema.Version)
                : new DatabaseStanding.OfShard(connection.Text("SELECT shard FROM owner"), connection.Number("SELECT batch FROM owner"), Digest.Of(connection));
        }
        catch (SqliteException broken)
        {
            return new DatabaseStanding.Damaged(broken.Message);
        }
    }

    private static string Text(string path, SqliteOpenMode mode) => new SqliteConnectionStringBuilder { DataSource = path, Mode = mode, Pooling = false }.ToString();
}
