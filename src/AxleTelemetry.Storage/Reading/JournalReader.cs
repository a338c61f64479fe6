using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;
using AxleTelemetry.Storage.Writing;
using Microsoft.Data.Sqlite;

namespace AxleTelemetry.Storage.Reading;

/// <summary>
/// Reads on a connection of its own. Every call sees one moment of the journal, copies its page out and lets go, so that the log can be
/// folded meanwhile. For one thread at a time; open as many as there are readers.
/// </summary>
public sealed class JournalReader : IDisposable
{
    private readonly Connection connection;

    private JournalReader(Connection connection) => this.connection = connection;

    /// <summary>Opens the journal of a shard for reading only.</summary>
    public static ReaderOpening Open(string directory, string shard)
    {
        var files = JournalFiles.Of(directory, shard);
        try
        {
            return Probe.Look(files, checkWholeUpTo: 0) switch
            {
                Probe.Absent => new ReaderOpening.Absent(files.Database),
                Probe.Corrupt corrupt => new ReaderOpening.Corrupt(files.Database, corrupt.Why),
                Probe.TooNew newer => new ReaderOpening.OtherVersion(files.Database, newer.Version, Schema.Version),
                Probe.Sound sound when sound.Version != Schema.Version => new ReaderOpening.OtherVersion(files.Database, sound.Version, Schema.Version),
                Probe.Sound => new ReaderOpening.Opened(new JournalReader(Connection.OpenForReading(files.Database))),
                var other => throw new InvalidOperationException($"unknown probe {other}"),
            };
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or SqliteException)
        {
            return new ReaderOpening.NotReadable(files.Database, e.Message);
        }
    }

    internal static JournalReader Open(JournalFiles files) => new(Connection.OpenForReading(files.Database));

    /// <summary>Number of the last batch; 0 when there is none.</summary>
    public long LastBatch() => InOneMoment(c => Single(c.Sql("SELECT batch FROM owner"), s => s.Long(0)));

    /// <summary>Inputs of all vehicles after a position, in order.</summary>
    public ImmutableArray<LoggedInput> Inputs(Position after, int limit) => InOneMoment(c => InputReading.After(c, after, limit));

    /// <summary>Inputs of one vehicle by sample time.</summary>
    public ImmutableArray<LoggedInput> Inputs(InputQuery query)
    {
        ArgumentNullException.ThrowIfNull(query);
        return InOneMoment(c => VehicleNames.Find(c, query.Vehicle) is { } vehicle ? InputReading.Between(c, query, vehicle) : []);
    }

    /// <summary>Rows of history in force.</summary>
    public ImmutableArray<KeptHistory> History(HistoryQuery query)
    {
        ArgumentNullException.ThrowIfNull(query);
        return InOneMoment(c => VehicleNames.Find(c, query.Vehicle) is { } vehicle ? OutputReading.InForce(c, query, vehicle) : []);
    }

    /// <summary>Outputs that changed after a position, void rows among them, in order.</summary>
    public ImmutableArray<OutputChange> Changes(Position after, int limit) => InOneMoment(c => OutputReading.Changes(c, after, limit));

    /// <summary>What was told after a position, in order.</summary>
    public ImmutableArray<(Position Position, TellingRow Row)> Told(Position after, int limit) => InOneMoment(c => OutputReading.Told(c, after, limit));

    /// <summary>Refusals of a vehicle that are kept, after a position, oldest first.</summary>
    public ImmutableArray<KeptRefusal> Refusals(VehicleKey vehicle, Position after, int limit) =>
        InOneMoment(c => VehicleNames.Find(c, vehicle) is { } number ? StateReading.Refusals(c, (vehicle, number), after, limit) : []);

    /// <summary>How many refusals of a vehicle are kept, and how many were dropped.</summary>
    public RefusalTally RefusalsOf(VehicleKey vehicle) =>
        InOneMoment(c => VehicleNames.Find(c, vehicle) is { } number ? StateReading.Tally(c, number) : default);

    /// <summary>States of lanes, by vehicle, after a vehicle.</summary>
    public ImmutableArray<KeptCheckpoint> Checkpoints(VehicleKey? after, int limit) => InOneMoment(c => StateReading.Checkpoints(c, after, limit));

    /// <summary>Vehicles whose history is to be corrected, the earliest first.</summary>
    public ImmutableArray<CorrectionMark.From> Corrections() => InOneMoment(StateReading.Corrections);

    /// <summary>How far a cursor has come.</summary>
    public CursorState Cursor(string name) => InOneMoment(c => StateReading.Cursor(c, name));

    /// <summary>The position of the slowest cursor; <see cref="Position.End"/> when there is none.</summary>
    public Position SlowestCursor() => InOneMoment(c => Single(c.Sql("SELECT min(position) FROM cursor"), s => s.IsNull(0) ? Position.End : Position.FromStored(s.Long(0))));

    /// <summary>SHA-256 over the history in force, in lower-case hexadecimal.</summary>
    public string Digest() => InOneMoment(Reading.Digest.Of);

    /// <summary>Reads every page and every index; empty when all is well. Takes long.</summary>
    public string IntegrityCheck() => connection.Text("PRAGMA integrity_check") is var said && said == "ok" ? string.Empty : said;

    /// <inheritdoc/>
    public void Dispose() => connection.Dispose();

    private static T Single<T>(Statement statement, Func<Statement, T> value)
    {
        statement.Step();
        var read = value(statement);
        statement.Reset();
        return read;
    }

    private T InOneMoment<T>(Func<Connection, T> read)
    {
        connection.Sql("BEGIN").Run();
        try
        {
            return read(connection);
        }
        finally
        {
            connection.Rollback();
        }
    }
}
