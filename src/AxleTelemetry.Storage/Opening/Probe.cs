using AxleTelemetry.Storage.Sqlite;
using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace AxleTelemetry.Storage.Opening;

/// <summary>What a look at the files says, before anything is written.</summary>
internal abstract record Probe
{
    private Probe()
    {
    }

    /// <summary>There is no journal yet.</summary>
    public sealed record Absent : Probe;

    /// <summary>A journal of this or an older version; 0 when its making was cut short.</summary>
    public sealed record Sound(long Version) : Probe;

    public sealed record TooNew(long Version) : Probe;

    public sealed record Corrupt(string Why) : Probe;

    /// <summary>Looks with a read-only connection: closing a writing one would fold the log into a damaged file.</summary>
    public static Probe Look(JournalFiles files, long checkWholeUpTo)
    {
        var length = File.Exists(files.Database) ? new FileInfo(files.Database).Length : 0;
        if (length == 0) return HasLog(files) ? new Corrupt("the write-ahead log is there, the database is not") : new Absent();
        if (!BeginsAsDatabase(files.Database)) return new Corrupt("it does not begin as an SQLite database does");
        try
        {
            using var connection = Connection.OpenForReading(files.Database);
            return Look(connection, files, length <= checkWholeUpTo);
        }
        catch (SqliteException e) when (e.SqliteErrorCode is raw.SQLITE_CORRUPT or raw.SQLITE_NOTADB)
        {
            return new Corrupt(e.Message);
        }
    }

    private static Probe Look(Connection connection, JournalFiles files, bool whole)
    {
        if (connection.Number("PRAGMA application_id") != Schema.ApplicationId) return new Corrupt("it is a database of another program");
        var version = connection.Number("PRAGMA user_version");
        if (version > Schema.Version) return new TooNew(version);
        if (whole && connection.Text("PRAGMA quick_check(1)") is var check && check != "ok") return new Corrupt(check.ReplaceLineEndings(" "));
        if (version == 0) return new Sound(0);
        if (connection.Number("SELECT count(*) FROM sqlite_schema WHERE name = 'owner'") == 0) return new Corrupt("its tables are missing");
        var shard = connection.Text("SELECT shard FROM owner");
        return shard == files.Shard ? new Sound(version) : new Corrupt($"it is the journal of shard '{shard}'");
    }

    private static bool HasLog(JournalFiles files) => File.Exists(files.Log) && new FileInfo(files.Log).Length > 0;

    private static bool BeginsAsDatabase(string path)
    {
        Span<byte> head = stackalloc byte[16];
        using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        return file.ReadAtLeast(head, head.Length, throwOnEndOfStream: false) == head.Length && head.SequenceEqual("SQLite format 3\0"u8);
    }
}
