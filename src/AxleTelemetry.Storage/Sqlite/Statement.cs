using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace AxleTelemetry.Storage.Sqlite;

/// <summary>
/// A prepared statement, bound by place from 1 and read by column from 0. The commit path runs some thousand rows per transaction, and ADO's
/// parameters cost more there than SQLite itself; an error is a <see cref="SqliteException"/> all the same.
/// </summary>
internal sealed class Statement : IDisposable
{
    private readonly sqlite3 database;
    private readonly sqlite3_stmt handle;

    public Statement(sqlite3 database, string sql)
    {
        this.database = database;
        SqliteException.ThrowExceptionForRC(raw.sqlite3_prepare_v2(database, sql, out handle), database);
    }

    public Statement Bind(int place, long value)
    {
        Check(raw.sqlite3_bind_int64(handle, place, value));
        return this;
    }

    public Statement Bind(int place, string value)
    {
        Check(raw.sqlite3_bind_text(handle, place, value));
        return this;
    }

    public Statement Bind(int place, ReadOnlySpan<byte> value)
    {
        // An empty blob bound as a null pointer would be NULL, and NULL means void in history.
        Check(value.IsEmpty ? raw.sqlite3_bind_zeroblob(handle, place, 0) : raw.sqlite3_bind_blob(handle, place, value));
        return this;
    }

    /// <summary>Moves to the next row. At the end, and on an error, the statement is ready for the next use.</summary>
    public bool Step()
    {
        var code = raw.sqlite3_step(handle);
        if (code == raw.SQLITE_ROW) return true;
        if (code != raw.SQLITE_DONE) Fail(code);
        raw.sqlite3_reset(handle);
        return false;
    }

    /// <summary>Runs a statement for its effect; the number of rows it changed.</summary>
    public int Run()
    {
        while (Step())
        {
        }

        return raw.sqlite3_changes(database);
    }

    /// <summary>Leaves the rest of the rows.</summary>
    public void Reset() => raw.sqlite3_reset(handle);

    public long Long(int column) => raw.sqlite3_column_int64(handle, column);

    public int Int(int column) => raw.sqlite3_column_int(handle, column);

    public string Text(int column) => raw.sqlite3_column_text(handle, column).utf8_to_string() ?? string.Empty;

    public bool IsNull(int column) => raw.sqlite3_column_type(handle, column) == raw.SQLITE_NULL;

    /// <summary>Valid until the next step only.</summary>
    public ReadOnlySpan<byte> Blob(int column) => raw.sqlite3_column_blob(handle, column);

    public void Dispose() => handle.Dispose();

    private void Check(int code)
    {
        if (code != raw.SQLITE_OK) Fail(code);
    }

    private void Fail(int code)
    {
        // The reset comes after the exception is made: it would replace the message.
        try
        {
            SqliteException.ThrowExceptionForRC(code, database);
        }
        finally
        {
            raw.sqlite3_reset(handle);
        }
    }
}
