using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Writing;

/// <summary>Writes the rows of a batch into an open transaction.</summary>
internal sealed class BatchWriter(JournalOptions options)
{
    private readonly VehicleNames names = new();
    private readonly RefusalKeeper refusals = new(options);

    public VehicleNames Names => names;

    /// <summary>To be called when a transaction did not commit.</summary>
    public void Forget()
    {
        names.Forget();
        refusals.Forget();
    }

    public WriteOutcome.Committed Write(Connection connection, Batch batch)
    {
        var take = connection.Sql("UPDATE owner SET batch = ?1 WHERE batch = ?1 - 1").Bind(1, batch.Number);
        if (take.Run() == 0) return AlreadyThere(connection, batch);
        var row = new Position(batch.Number, 0).Stored;
        foreach (var input in batch.Inputs) Write(connection, input, row++);
        foreach (var change in batch.History) Write(connection, change, row++);
        foreach (var told in batch.Telling) Write(connection, told, row++);
        foreach (var refusal in batch.Refusals) refusals.Add(connection, refusal, names.Number(connection, refusal.Vehicle), row++);
        foreach (var checkpoint in batch.Checkpoints) Write(connection, checkpoint, batch.Number);
        foreach (var mark in batch.Corrections) Write(connection, mark);
        return new WriteOutcome.Committed(batch.Rows);
    }

    private static WriteOutcome.Committed AlreadyThere(Connection connection, Batch batch)
    {
        var read = connection.Sql("SELECT batch FROM owner");
        read.Step();
        var last = read.Long(0);
        read.Reset();
        return batch.Number <= last
            ? new WriteOutcome.Committed(0)
            : throw new ArgumentException($"Batch {batch.Number} does not follow batch {last}.", nameof(batch));
    }

    private void Write(Connection connection, InputRow input, long position)
    {
        if (!Moments.AreUsable(input.Samples)) throw new ArgumentException($"An input has the samples {input.Samples}.", nameof(input));
        connection.Sql("INSERT INTO input(position, vehicle, kind, stream, received, least, greatest, bytes) VALUES(?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)")
            .Bind(1, position).Bind(2, names.Number(connection, input.Vehicle)).Bind(3, input.Kind.Code).Bind(4, input.Stream.Code)
            .Bind(5, input.Received.UnixMilliseconds).Bind(6, input.Samples.Least.UnixMilliseconds).Bind(7, input.Samples.Greatest.UnixMilliseconds)
            .Bind(8, input.Bytes.AsSpan()).Run();
    }

    private void Write(Connection connection, HistoryRow change, long position)
    {
        switch (change)
        {
            case HistoryRow.Put put:
                Keyed(connection.Sql(PutSql), connection, put.Key, position).Bind(6, put.Aside.AsSpan()).Bind(7, put.Bytes.AsSpan()).Run();
                break;
            case HistoryRow.Void gone:
                Keyed(connection.Sql(VoidSql), connection, gone.Key, position).Run();
                break;
            default:
                throw new InvalidOperationException($"unknown change {change}");
        }
    }

    // A row that is written as it stood did not change: cursors must not meet it again.
    private const string PutSql = """
        INSERT INTO history(vehicle, kind, t, key, position, aside, bytes) VALUES(?1, ?2, ?3, ?4, ?5, ?6, ?7)
        ON CONFLICT(vehicle, kind, t, key) DO UPDATE SET position = ?5, aside = ?6, bytes = ?7
        WHERE bytes IS NOT ?7 OR aside IS NOT ?6
        """;

    private const string VoidSql = """
        UPDATE history SET position = ?5, aside = NULL, bytes = NULL
        WHERE vehicle = ?1 AND kind = ?2 AND t = ?3 AND key = ?4 AND bytes IS NOT NULL
        """;

    private Statement Keyed(Statement statement, Connection connection, HistoryKey key, long position) => statement
        .Bind(1, names.Number(connection, key.Vehicle)).Bind(2, key.Kind.Code).Bind(3, key.Time.UnixMilliseconds).Bind(4, key.Key).Bind(5, position);

    private void Write(Connection connection, TellingRow told, long position) =>
        connection.Sql("INSERT INTO telling(position, vehicle, kind, key, at, bytes) VALUES(?1, ?2, ?3, ?4, ?5, ?6)")
            .Bind(1, position).Bind(2, names.Number(connection, told.Vehicle)).Bind(3, told.Kind.Code).Bind(4, told.Key)
            .Bind(5, told.At.UnixMilliseconds).Bind(6, told.Bytes.AsSpan()).Run();

    private void Write(Connection connection, CheckpointRow checkpoint, long batch) =>
        connection.Sql("INSERT OR REPLACE INTO checkpoint(vehicle, batch, version, bytes) VALUES(?1, ?2, ?3, ?4)")
            .Bind(1, names.Number(connection, checkpoint.Vehicle)).Bind(2, batch).Bind(3, checkpoint.StateVersion).Bind(4, checkpoint.Bytes.AsSpan()).Run();

    private void Write(Connection connection, CorrectionMark mark)
    {
        var vehicle = names.Number(connection, mark.Vehicle);
        if (mark is CorrectionMark.From from)
        {
            connection.Sql("INSERT INTO correction(vehicle, since) VALUES(?1, ?2) ON CONFLICT(vehicle) DO UPDATE SET since = min(since, ?2)")
                .Bind(1, vehicle).Bind(2, from.Since.UnixMilliseconds).Run();
        }
        else
        {
            connection.Sql("DELETE FROM correction WHERE vehicle = ?1").Bind(1, vehicle).Run();
        }
    }
}
