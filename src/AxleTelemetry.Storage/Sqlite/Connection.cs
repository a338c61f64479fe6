using System.Globalization;
using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace AxleTelemetry.Storage.Sqlite;

/// <summary>A connection to one database file with its prepared statements. Used by one thread at a time.</summary>
internal sealed class Connection : IDisposable
{
    private const int BusyMilliseconds = 5_000;

    private readonly SqliteConnection connection;
    private readonly Dictionary<string, Statement> statements = new(StringComparer.Ordinal);

    private Connection(SqliteConnection connection) => this.connection = connection;

    public static Connection OpenForWriting(string path) => Open(path, SqliteOpenMode.ReadWriteCreate);

    public static Connection OpenForReading(string path) => Open(path, SqliteOpenMode.ReadOnly);

    /// <summary>Whether a transaction is open; SQLite ends one by itself on some errors.</summary>
    public bool InTransaction => raw.sqlite3_get_autocommit(connection.Handle!) == 0;

    /// <summary>A statement prepared at its first use.</summary>
    public Statement Sql(string sql)
    {
        if (!statements.TryGetValue(sql, out var statement)) statements.Add(sql, statement = new Statement(connection.Handle!, sql));
        return statement;
    }

    /// <summary>Runs text of one or more statements once.</summary>
    public void Run(string script)
    {
        using var command = connection.CreateCommand();
        command.CommandText = script;
        command.ExecuteNonQuery();
    }

    /// <summary>The single number that a statement gives.</summary>
    public long Number(string sql)
    {
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        return Convert.ToInt64(command.ExecuteScalar(), CultureInfo.InvariantCulture);
    }

    /// <summary>The single text that a statement gives; empty when it gives none.</summary>
    public string Text(string sql)
    {
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        return Convert.ToString(command.ExecuteScalar(), CultureInfo.InvariantCulture) ?? string.Empty;
    }

    public void Begin() => Sql("BEGIN IMMEDIATE").Run();

    public void Commit() => Sql("COMMIT").Run();

    public void Rollback()
    {
        if (InTransaction) Sql("ROLLBACK").Run();
    }

    public void Dispose()
    {
        foreach (var statement in statements.Values) statement.Dispose();
        connection.Dispose();
    }

    private static Connection Open(string path, SqliteOpenMode mode)
    {
        var text = new SqliteConnectionStringBuilder { DataSource = path, Mode = mode, Pooling = false }.ToString();
        var connection = new SqliteConnection(text);
        try
        {
            connection.Open();
            SqliteException.ThrowExceptionForRC(raw.sqlite3_busy_timeout(connection.Handle!, BusyMilliseconds), connection.Handle!);
            return new Connection(connection);
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }
}
