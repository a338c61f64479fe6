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

    /// <summary>The last input of a vehicle and kind in the order taken.</summary>
    public LoggedInput? LastInput(VehicleKey vehicle, RowKind kind) =>
        InOneMoment(c => VehicleNames.Find(c, vehicle) is { } number ? InputReading.Last(c, (vehicle, number), kind) : null);

    /// <summary>Vehicles that have a row of any sort, by fleet and name; the shard itself is none.</summary>
    public ImmutableArray<VehicleKey> Vehicles() => InOneMoment(StateReading.Vehicles);

    /// <summary>Rows of history in force.</summary>
    public ImmutableArray<KeptHistory> History(HistoryQuery query)
    {
        ArgumentNullException.ThrowIfNull(query);
        return InOneMoment(c => VehicleNames.Find(c, query.Vehicle) is { } vehicle ? OutputReading.InForce(c, query, vehicle) : []);
    }

    /// <summary>Rows of history in force of a vehicle that have their time, or were touched, at a moment or later; by kind, time and key.</summary>
    public ImmutableArray<KeptHistory> Touched(VehicleKey vehicle, Moment from) =>
        InOneMoment(c => VehicleNames.Find(c, vehicle) is { } number ? TouchedReading.From(c, (vehicle, number), from) : []);

    /// <summary>The latest row of history in force of a vehicle and kind.</summary>
    public KeptHistory? LastHistory(VehicleKey vehicle, RowKind kind) =>
        InOneMoment(c => VehicleNames.Find(c, vehicle) is { } number ? TouchedReading.Last(c, (vehicle, number), kind) : null);

    /// <summary>Rows of history in force of one kind over many vehicles.</summary>
    /// <exception cref="ArgumentException">Kind 0 is asked for without a vehicle.</exception>
    public ImmutableArray<KeptHistory> HistoryAcross(AcrossQuery query)
    {
        ArgumentNullException.ThrowIfNull(query);
        return InOneMoment(c => query.Vehicle is not { } vehicle ? AcrossReading.Read(c, query, null)
            : VehicleNames.Find(c, vehicle) is { } number ? AcrossReading.Read(c, query, number) : []);
    }

    /// <summary>Outputs that changed after a position, void rows among them, in order.</summary>
    public ImmutableArray<OutputChange> Changes(Position after, int limit) => InOneMoment(c => OutputReading.Changes(c, after, limit));

    /// <summary>What was told after a position, in order.</summary>
    public ImmutableArray<(Position Position, TellingRow Row)> Told(Position after, int limit) => InOneMoment(c => TellingReading.After(c, after, limit));

    /// <summary>What was told of a vehicle, of a key, or of both, after a position, oldest first.</summary>
    /// <param name="vehicle">Of this vehicle only.</param>
    /// <param name="keyPrefixOrKey">A key, or what it begins with.</param>
    /// <param name="after">The position of the last row of the page before.</param>
    /// <param name="limit">The most rows in a page.</param>
    public ImmutableArray<(Position Position, TellingRow Row)> Told(VehicleKey? vehicle, string? keyPrefixOrKey, Position after, int limit) => InOneMoment(c =>
        (vehicle, keyPrefixOrKey) switch
        {
            (null, null) => TellingReading.After(c, after, limit),
            (null, { } key) => TellingReading.OfKey(c, key, (after, limit)),
            ({ } one, var key) => VehicleNames.Find(c, one) is not { } number ? []
                : key is null ? TellingReading.OfVehicle(c, number, (after, limit)) : TellingReading.OfBoth(c, (number, key), (after, limit)),
        });

    /// <summary>What was told before a position, newest first.</summary>
    public ImmutableArray<(Position Position, TellingRow Row)> ToldBefore(Position before, int limit) => InOneMoment(c => TellingReading.Before(c, before, limit));

    /// <summary>Refusals of a vehicle that are kept, after a position, oldest first.</summary>
    public ImmutableArray<KeptRefusal> Refusals(VehicleKey vehicle, Position after, int limit) =>
        InOneMoment(c => VehicleNames.Find(c, vehicle) is { } number ? RefusalReading.After(c, number, (after, limit)) : []);

    /// <summary>How many refusals of a vehicle are kept, and how many were dropped.</summary>
    public RefusalTally RefusalsOf(VehicleKey vehicle) =>
        InOneMoment(c => VehicleNames.Find(c, vehicle) is { } number ? RefusalReading.Tally(c, number) : default);

    /// <summary>Refusals that are kept, newest first.</summary>
    public ImmutableArray<KeptRefusal> Refusals(RefusalQuery query)
    {
        ArgumentNullException.ThrowIfNull(query);
        return InOneMoment(c => query.Vehicle is not { } vehicle ? RefusalReading.Newest(c, query, null)
            : VehicleNames.Find(c, vehicle) is { } number ? RefusalReading.Newest(c, query, number) : []);
    }

    /// <summary>Of every vehicle with refusals, how many are kept and how many were dropped; by fleet and name.</summary>
    public ImmutableArray<(VehicleKey Vehicle, RefusalTally Tally)> RefusalTallies() => InOneMoment(RefusalReading.Tallies);

    /// <summary>States by fleet, vehicle and kind, after one of them.</summary>
    public ImmutableArray<KeptCheckpoint> Checkpoints((VehicleKey Vehicle, RowKind Kind)? after, int limit) => InOneMoment(c => StateReading.Checkpoints(c, after, limit));

    /// <summary>The state of a vehicle that holds everything up to a moment; <c>null</c> where none is kept.</summary>
    public ReadOnlyMemory<byte>? Snapshot(VehicleKey vehicle, Moment upTo) =>
        InOneMoment(c => VehicleNames.Find(c, vehicle) is { } number ? StateReading.Snapshot(c, number, upTo) : null);

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
