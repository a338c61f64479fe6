using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;
using Microsoft.Data.Sqlite;

namespace AxleTelemetry.Storage.Tests.Opening;

public sealed class MigrationTests
{
    [Fact]
    public void A_journal_of_version_1_is_read_whole_by_this_program()
    {
        using var place = new Place();
        MakeVersion1(place);
        using var journal = place.Open();
        Assert.Equal(5, journal.Epoch);
        Assert.Equal(2, journal.LastBatch());
        using var reader = journal.Reader();
        Assert.Equal("one", Some.Text(Assert.Single(reader.Inputs(Position.Start, 10)).Row.Bytes));
        Assert.Equal(["put k load", "told told"], reader.Changes(Position.Start, 10).Select(Some.Line));
        Assert.Equal("bad", Some.Text(Assert.Single(reader.Refusals(Some.Truck, Position.Start, 10)).Row.Bytes));
        Assert.Equal(new RefusalTally(1, 2), reader.RefusalsOf(Some.Truck));
        Assert.Equal((new RowKind(0), 9, "state"), Assert.Single(reader.Checkpoints(null, 10)).Row is var row ? (row.Kind, row.StateVersion, Some.Text(row.Bytes)) : default);
        Assert.Null(Assert.Single(reader.History(new HistoryQuery(Some.Truck, Some.Kind, Some.Always))).Row.Touched);
        Assert.Equal("load", Some.Text(Assert.Single(reader.HistoryAcross(new AcrossQuery(Some.Kind, Some.Always))).Row.Bytes));
        Assert.Equal("one", Some.Text(reader.LastInput(Some.Truck, Some.Kind)!.Row.Bytes));
        Assert.Single(reader.Told(Some.Truck, "k", Position.Start, 10));
        Assert.Equal(string.Empty, reader.IntegrityCheck());
        Assert.Equal(new CorrectionMark.From(Some.Truck, Some.At(0)), Assert.Single(reader.Corrections()));
        Assert.Equal(new CursorState.At(new Position(1, 0), 7), reader.Cursor("outside"));
    }

    [Fact]
    public void A_journal_of_version_1_goes_on_being_written()
    {
        using var place = new Place();
        MakeVersion1(place);
        using var journal = place.Open();
        journal.Commit(new Batch(3)
        {
            Checkpoints = [new CheckpointRow(Some.Truck, new RowKind(0), 10, Some.Bytes("newer")), new CheckpointRow(Some.Truck, new RowKind(1), 1, Some.Bytes("small"))],
            Snapshots = [new SnapshotChange.Keep(Some.Truck, Some.At(0), Some.Bytes("snapshot"))],
            History = [Some.Put(0, "load") with { Touched = Some.At(60) }],
        }).Done();
        Outcomes.Through(() => journal.Seal(Some.At(9_000)));
        using var reader = journal.Reader();
        Assert.Equal(["0 newer", "1 small"], reader.Checkpoints(null, 10).Select(c => $"{c.Row.Kind.Code} {Some.Text(c.Row.Bytes)}"));
        Assert.Equal(Some.At(60), Assert.Single(reader.Touched(Some.Truck, Some.At(30))).Row.Touched);
        Assert.Equal("one", Some.Text(reader.LastInput(Some.Truck, Some.Kind)!.Row.Bytes));
    }

    [Fact]
    public void A_step_to_a_newer_version_keeps_rows_and_is_done_once()
    {
        using var place = new Place();
        MakeVersion1(place);
        using var connection = Connection.OpenForWriting(place.Database);
        var steps = Schema.Steps.Add("ALTER TABLE cursor ADD COLUMN note TEXT; UPDATE cursor SET note = 'new';");
        Schema.Migrate(connection, steps);
        Schema.Migrate(connection, steps);
        Assert.Equal(Schema.Version + 1, connection.Number("PRAGMA user_version"));
        Assert.Equal("new", connection.Text("SELECT note FROM cursor WHERE name = 'outside'"));
    }

    [Fact]
    public void A_step_that_fails_leaves_the_version_before()
    {
        using var place = new Place();
        MakeVersion1(place);
        using var connection = Connection.OpenForWriting(place.Database);
        Assert.Throws<SqliteException>(() => Schema.Migrate(connection, Schema.Steps.Add("DROP TABLE refusal; SELECT * FROM nowhere;")));
        Assert.Equal(Schema.Version, connection.Number("PRAGMA user_version"));
        Assert.Equal(1, connection.Number("SELECT count(*) FROM refusal"));
    }

    private static void MakeVersion1(Place place)
    {
        using var script = new StreamReader(typeof(MigrationTests).Assembly.GetManifestResourceStream("version-1.sql")!);
        using var connection = Connection.OpenForWriting(place.Database);
        connection.Run(script.ReadToEnd());
    }
}
