using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Writing;
using Microsoft.Data.Sqlite;

namespace AxleTelemetry.Storage.Tests.Writing;

public sealed class CommitTests
{
    [Fact]
    public void A_batch_written_again_changes_nothing()
    {
        using var place = new Place();
        using var journal = place.Open();
        var batch = new Batch(1) { Inputs = [Some.Input(Some.Truck, 0)], History = [Some.Put(0, "a")], Telling = [Some.Telling(0, "t")] };
        Assert.Equal(3, journal.Commit(batch).Done());
        Assert.Equal(0, journal.Commit(batch).Done());
        using var reader = journal.Reader();
        Assert.Single(reader.Inputs(Position.Start, 10));
        Assert.Equal(2, reader.Changes(Position.Start, 10).Length);
        Assert.Equal(1, journal.LastBatch());
    }

    [Fact]
    public void A_gap_in_the_numbers_is_an_error_of_the_caller_and_leaves_nothing()
    {
        using var place = new Place();
        using var journal = place.Open();
        Assert.Throws<ArgumentException>(() => journal.Commit(new Batch(2)));
        journal.Commit(new Batch(1)).Done();
        Assert.Equal(1, journal.LastBatch());
    }

    [Fact]
    public void An_older_owner_is_told_and_stops()
    {
        using var place = new Place();
        using var older = place.Open();
        older.Commit(new Batch(1) { Inputs = [Some.Input(Some.Truck, 0)] }).Done();

        // The lock is gone, as when a file system forgets it or someone deletes the file.
        File.Delete(Path.Combine(place.Path, Place.Shard + ".lock"));
        using var newer = place.Open();
        var batch = new Batch(2) { Inputs = [Some.Input(Some.Truck, 1)] };
        Assert.Equal(new WriteOutcome.Superseded(2), older.Commit(batch));
        newer.Commit(batch).Done();
        Assert.Equal(new WriteOutcome.Superseded(2), older.Commit(batch));
        Assert.Equal(new WriteOutcome.Superseded(2), older.Seal(Some.At(10_000)));
        Assert.Equal(new WriteOutcome.Superseded(2), older.Advance("outside", Position.Start));
        using var reader = newer.Reader();
        Assert.Equal(2, reader.Inputs(Position.Start, 10).Length);
    }

    [Theory]
    [InlineData(CommitStage.Written, false)]
    [InlineData(CommitStage.Committed, true)]
    internal void An_error_around_the_commit_is_decided_by_what_the_file_holds(CommitStage at, bool committed)
    {
        using var place = new Place();
        using var journal = place.Open();
        journal.Trace = stage =>
        {
            if (stage == at) throw new SqliteException("the wire is cut", SQLitePCL.raw.SQLITE_IOERR);
        };
        var batch = new Batch(1) { Inputs = [Some.Input(Some.Truck, 0)] };
        var outcome = journal.Commit(batch);
        Assert.Equal(committed ? new WriteOutcome.Committed(1) : new WriteOutcome.Failed(true, "the wire is cut"), outcome);

        journal.Trace = null;
        Assert.Equal(committed ? 0 : 1, journal.Commit(batch).Done());
        using var reader = journal.Reader();
        Assert.Equal("north/T-01", string.Join('/', reader.Inputs(Position.Start, 10).Select(i => $"{i.Row.Vehicle.Fleet}/{i.Row.Vehicle.Vehicle}")));
    }

    [Fact]
    public void An_unknown_outcome_after_a_newer_owner_came_is_superseded()
    {
        using var place = new Place();
        using var journal = place.Open();
        journal.Trace = stage =>
        {
            if (stage != CommitStage.Committed) return;
            File.Delete(Path.Combine(place.Path, Place.Shard + ".lock"));
            place.Open().Dispose();
            throw new IOException("the wire is cut");
        };
        Assert.Equal(new WriteOutcome.Superseded(2), journal.Commit(new Batch(1)));
    }

    [Fact]
    public void A_file_taken_away_is_a_failure_that_stays_visible_and_is_not_made_anew()
    {
        using var place = new Place();
        using var journal = place.Open();
        journal.Trace = _ =>
        {
            File.Move(place.Database, place.Database + ".away");
            throw new IOException("cut");
        };
        journal.Commit(new Batch(1));
        journal.Trace = null;
        Assert.IsType<WriteOutcome.Failed>(journal.Commit(new Batch(1)));
        Assert.False(File.Exists(place.Database));
        File.Move(place.Database + ".away", place.Database);
        journal.Commit(new Batch(1)).Done();
    }

    [Fact]
    public void Of_two_marks_the_earlier_holds_until_the_correction_is_done()
    {
        using var place = new Place();
        using var journal = place.Open();
        journal.Commit(new Batch(1) { Corrections = [new CorrectionMark.From(Some.Truck, Some.At(20)), new CorrectionMark.From(Some.Other, Some.At(5))] }).Done();
        journal.Commit(new Batch(2) { Corrections = [new CorrectionMark.From(Some.Truck, Some.At(10))] }).Done();
        journal.Commit(new Batch(3) { Corrections = [new CorrectionMark.From(Some.Truck, Some.At(30)), new CorrectionMark.Done(Some.Other)] }).Done();
        using var reader = journal.Reader();
        Assert.Equal([new CorrectionMark.From(Some.Truck, Some.At(10))], reader.Corrections());
    }

    [Fact]
    public void A_checkpoint_replaces_the_one_before()
    {
        using var place = new Place();
        using var journal = place.Open();
        journal.Commit(new Batch(1) { Checkpoints = [new CheckpointRow(Some.Truck, Some.Kind, 1, Some.Bytes("a")), new CheckpointRow(Some.Other, Some.Kind, 1, Some.Bytes("b"))] }).Done();
        journal.Commit(new Batch(2) { Checkpoints = [new CheckpointRow(Some.Truck, Some.Kind, 2, Some.Bytes("c"))] }).Done();
        using var reader = journal.Reader();
        Assert.Equal(["T-01 2 2 c", "T-02 1 1 b"], reader.Checkpoints(null, 10).Select(c => $"{c.Row.Vehicle.Vehicle} {c.Batch} {c.Row.StateVersion} {Some.Text(c.Row.Bytes)}"));
        Assert.Equal("T-02", Assert.Single(reader.Checkpoints((Some.Truck, Some.Kind), 10)).Row.Vehicle.Vehicle);
    }

    [Fact]
    public void Two_threads_at_once_are_an_error_of_the_caller()
    {
        using var place = new Place();
        using var journal = place.Open();
        journal.Trace = stage =>
        {
            if (stage == CommitStage.Written) Assert.Throws<InvalidOperationException>(() => journal.Commit(new Batch(2)));
        };
        journal.Commit(new Batch(1)).Done();
    }

    [Fact]
    public void Readers_see_a_batch_only_once_it_is_committed()
    {
        using var place = new Place();
        using var journal = place.Open();
        using var reader = journal.Reader();
        journal.Trace = stage => Assert.Equal(stage == CommitStage.Written ? 0 : 1, reader.Inputs(Position.Start, 10).Length);
        journal.Commit(new Batch(1) { Inputs = [Some.Input(Some.Truck, 0)] }).Done();
    }
}
