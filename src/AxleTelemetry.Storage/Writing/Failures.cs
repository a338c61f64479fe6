using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace AxleTelemetry.Storage.Writing;

/// <summary>What an error of the database means for who wants to write.</summary>
internal static class Failures
{
    private const long NoRoom = 1L << 20;

    public static WriteOutcome Outcome(Exception error, string path) => error switch
    {
        SqliteException { SqliteErrorCode: raw.SQLITE_FULL } => new WriteOutcome.DiskFull(error.Message),
        // Files beside the database, such as the shared memory of the log, report a full disk as a plain I/O error.
        SqliteException { SqliteErrorCode: raw.SQLITE_IOERR or raw.SQLITE_CANTOPEN } when FreeBytes(path) < NoRoom => new WriteOutcome.DiskFull(error.Message),
        SqliteException sqlite => new WriteOutcome.Failed(CanPass(sqlite.SqliteErrorCode), error.Message),
        _ => new WriteOutcome.Failed(true, error.Message),
    };

    /// <summary>Bytes that this process may still use on the disk of a file; the greatest number when the system does not tell.</summary>
    public static long FreeBytes(string path)
    {
        try
        {
            return new DriveInfo(Path.GetDirectoryName(path)!).AvailableFreeSpace;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return long.MaxValue;
        }
    }

    private static bool CanPass(int code) =>
        code is not (raw.SQLITE_CORRUPT or raw.SQLITE_NOTADB or raw.SQLITE_CONSTRAINT or raw.SQLITE_MISMATCH or raw.SQLITE_TOOBIG or raw.SQLITE_ERROR);
}
