using AxleTelemetry.Storage.Sqlite;
using Microsoft.Data.Sqlite;

namespace AxleTelemetry.Storage.Delivering;

/// <summary>
/// What is to be told to whom and what came of it, in a file of its own beside the journals: whatever happens to it, no message of a vehicle waits for it.
/// One step is one transaction. For any thread.
/// </summary>
public sealed class DeliveryFile : IDisposable
{
    /// <summary>Name of the file in the data directory.</summary>
    public const string FileName = "delivery.db";

    private readonly Lock _gate = new();
    private readonly Connection _connection;

    private DeliveryFile(Connection connection) => _connection = connection;

    /// <summary>Opens the file, and makes it where it is missing.</summary>
    /// <param name="directory">The data directory.</param>
    /// <exception cref="IOException">It cannot be opened or is no such file; the message says which and why.</exception>
    public static DeliveryFile Open(string directory)
    {
        var path = Path.Combine(directory, FileName);
        Connection? connection = null;
        try
        {
            Directory.CreateDirectory(directory);
            connection = Connection.OpenForWriting(path);
            DeliverySchema.Prepare(connection);
            return new DeliveryFile(connection);
        }
        catch (Exception wrong) when (wrong is SqliteException or InvalidDataException or UnauthorizedAccessException or IOException)
        {
            connection?.Dispose();
            throw new IOException($"What is delivered is kept in {path}, which cannot be used: {wrong.Message}", wrong);
        }
    }

    /// <summary>Reads, or writes, in one transaction; a step that throws leaves nothing behind.</summary>
    /// <exception cref="IOException">The file cannot be read or written now.</exception>
    public T InOneStep<T>(Func<DeliveryBook, T> step)
    {
        lock (_gate)
        {
            try
            {
                _connection.Begin();
                var result = step(new DeliveryBook(_connection));
                _connection.Commit();
                return result;
            }
            catch (SqliteException failed)
            {
                throw new IOException($"What is delivered cannot be kept now: {failed.Message}", failed);
            }
            finally
            {
                // After a commit there is nothing left to roll back.
                if (_connection.InTransaction) _connection.Rollback();
            }
        }
    }

    /// <summary>Writes in one transaction.</summary>
    /// <exception cref="IOException">The file cannot be written now.</exception>
    public void InOneStep(Action<DeliveryBook> step) => InOneStep(book =>
    {
        step(book);
        return 0;
    });

    /// <inheritdoc/>
    public void Dispose()
    {
        lock (_gate) _connection.Dispose();
    }
}
