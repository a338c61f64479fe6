using System.Collections.Immutable;
using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Writing;

/// <summary>Writes the rows of a batch into an open transaction.</summary>
internal sealed class BatchWriter(JournalOptions options)
{
    private readonly VehicleNames names = new();
    private readonly RefusalKeeper refusals = new(options);
    private readonly SnapshotWriter snapshots = new();

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
        foreach (var change in batch.History) HistoryWriter.Write(connection, change, (names.Number(connection, change.Key.Vehicle), row++));
        foreach (var told in batch.Telling) Write(connection, told, row++);
        foreach (var refusal in batch.Refusals) refusals.Add(connection, refusal, names.Number(connection, refusal.Vehicle), row++);
        Write(connection, batch.Checkpoints, batch.Number);
        foreach (var change in batch.Snapshots) snapshots.Write(connection, change, names.Number(connection, change.Vehicle));
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

    private void Write(Connection connection, TellingRow told, long position) =>
        connection.Sql("INSERT INTO telling(position, vehicle, kind, key, at, bytes) VALUES(?1, ?2, ?3, ?4, ?5, ?6)")
            .Bind(1, position).Bind(2, names.Number(connection, told.Vehicle)).Bind(3, told.Kind.Code).Bind(4, told.Key)
            .Bind(5, told.At.UnixMilliseconds).Bind(6, told.Bytes.AsSpan()).Run();

    // A rowid table without further indexes: an old row is overwritten where it stands, in place when it has the same length.
    private void Write(Connection connection, ImmutableArray<CheckpointRow> checkpoints, long batch)
    {
        if (checkpoints.IsEmpty) return;
        var insert = connection.Sql("INSERT OR REPLACE INTO checkpoint(place, batch, version, bytes) VALUES(?1, ?2, ?3, ?4)").Bind(2, batch);
        foreach (var row in checkpoints)
        {
            insert.Bind(1, CheckpointPlace.Of(row.Kind, names.Number(connection, row.Vehicle))).Bind(3, row.StateVersion).Bind(4, row.Bytes.AsSpan()).Run();
        }
    }

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
