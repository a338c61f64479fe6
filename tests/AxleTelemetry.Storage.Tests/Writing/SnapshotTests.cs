using System.Collections.Immutable;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;
using Microsoft.Data.Sqlite;

namespace AxleTelemetry.Storage.Tests.Writing;

public sealed class SnapshotTests
{
    [Fact]
    public void What_is_kept_comes_back_bit_by_bit_until_it_is_dropped()
    {
        using var place = new Place();
        using var journal = place.Open();
        var noise = new byte[3_000];
        new Random(11).NextBytes(noise);
        ImmutableArray<byte>[] states = [[], [7], [.. noise], [.. new byte[3_000]], Some.Bytes(string.Concat(Enumerable.Repeat("state ", 400)))];
        journal.Commit(new Batch(1) { Snapshots = [.. states.Select((s, i) => new SnapshotChange.Keep(Some.Truck, Some.At(i), s))] }).Done();
        using var reader = journal.Reader();
        for (var i = 0; i < states.Length; i++) Assert.Equal(states[i].AsSpan(), reader.Snapshot(Some.Truck, Some.At(i))!.Value.Span);
        Assert.Null(reader.Snapshot(Some.Truck, Some.At(99)));
        Assert.Null(reader.Snapshot(Some.Other, Some.At(0)));

        journal.Commit(new Batch(2) { Snapshots = [new SnapshotChange.Drop(Some.Truck, Some.At(0)), new SnapshotChange.Drop(Some.Truck, Some.At(99))] }).Done();
        Assert.Null(reader.Snapshot(Some.Truck, Some.At(0)));
        Assert.NotNull(reader.Snapshot(Some.Truck, Some.At(1)));
        using var connection = Connection.OpenForReading(place.Database);
        Assert.InRange(connection.Number($"SELECT length(bytes) FROM snapshot WHERE upto = {Some.At(4).UnixMilliseconds}"), 1, 200);
    }

    [Fact]
    public void Changes_of_one_snapshot_hold_in_order_and_with_their_batch_only()
    {
        using var place = new Place();
        using var journal = place.Open();
        var batch = new Batch(1)
        {
            Snapshots =
            [
                new SnapshotChange.Keep(Some.Truck, Some.At(0), Some.Bytes("a")), new SnapshotChange.Keep(Some.Truck, Some.At(0), Some.Bytes("b")),
                new SnapshotChange.Keep(Some.Other, Some.At(0), Some.Bytes("c")), new SnapshotChange.Drop(Some.Other, Some.At(0)),
            ],
        };
        journal.Trace = _ => throw new SqliteException("cut", SQLitePCL.raw.SQLITE_IOERR);
        journal.Commit(batch);
        using var reader = journal.Reader();
        Assert.Null(reader.Snapshot(Some.Truck, Some.At(0)));
        journal.Trace = null;
        Assert.Equal(4, journal.Commit(batch).Done());
        Assert.Equal("b"u8, reader.Snapshot(Some.Truck, Some.At(0))!.Value.Span);
        Assert.Null(reader.Snapshot(Some.Other, Some.At(0)));
    }

    [Fact]
    public void Snapshots_are_no_history_and_no_change_that_a_cursor_carries()
    {
        using var place = new Place();
        using var journal = place.Open();
        journal.Commit(new Batch(1) { History = [Some.Put(0, "a")] }).Done();
        using var reader = journal.Reader();
        var before = reader.Digest();
        journal.Commit(new Batch(2) { Snapshots = [new SnapshotChange.Keep(Some.Truck, Some.At(0), Some.Bytes("s"))] }).Done();
        Assert.Equal(before, reader.Digest());
        Assert.Empty(reader.Changes(new Position(1, 0), 10));
    }

    [Fact]
    public void A_snapshot_that_the_disk_changed_is_said_not_read()
    {
        using var place = new Place();
        using var journal = place.Open();
        journal.Commit(new Batch(1) { Snapshots = [new SnapshotChange.Keep(Some.Truck, Some.At(0), [.. new byte[500]])] }).Done();
        using (var connection = Connection.OpenForWriting(place.Database)) connection.Run("UPDATE snapshot SET bytes = x'FFFFFF'");
        using var reader = journal.Reader();
        Assert.Throws<InvalidDataException>(() => reader.Snapshot(Some.Truck, Some.At(0)));
    }
}
