using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Storage.Tests.Opening;

public sealed class OpeningTests
{
    [Fact]
    public void What_the_disk_is_told_is_what_was_promised()
    {
        using var place = new Place();
        place.Open().Dispose();
        using var connection = Connection.OpenForReading(place.Database);
        Assert.Equal("wal", connection.Text("PRAGMA journal_mode"));
        Assert.Equal(2, connection.Number("PRAGMA auto_vacuum"));
        using var writing = Connection.OpenForWriting(place.Database);
        FencedWriter.Configure(writing);
        Assert.Equal(2, writing.Number("PRAGMA synchronous"));
    }

    [Fact]
    public void A_second_opening_hears_who_has_it_and_can_come_after()
    {
        using var place = new Place();
        using (place.Open())
        {
            var inUse = Assert.IsType<JournalOpening.InUse>(Journal.Open(place.Path, Place.Shard, Place.Plain));
            Assert.StartsWith($"process {Environment.ProcessId} on ", inUse.Owner, StringComparison.Ordinal);
        }

        using var second = place.Open();
        Assert.Equal(2, second.Epoch);
    }

    [Theory]
    [InlineData("garbage")]
    [InlineData("other program")]
    [InlineData("damaged page")]
    [InlineData("log without database")]
    [InlineData("other shard")]
    public void A_damaged_or_foreign_file_is_said_and_not_touched(string how)
    {
        using var place = new Place();
        Damage(place, how);
        var before = Files(place);
        var corrupt = Assert.IsType<JournalOpening.Corrupt>(Journal.Open(place.Path, Place.Shard, Place.Plain));
        Assert.NotEmpty(corrupt.Why);
        Assert.IsType<ReaderOpening.Corrupt>(how == "damaged page" ? new ReaderOpening.Corrupt("", "") : JournalReader.Open(place.Path, Place.Shard));
        Assert.Equal(before, Files(place));
    }

    [Fact]
    public void A_file_of_a_newer_version_is_said_and_not_touched()
    {
        using var place = new Place();
        place.Open().Dispose();
        using (var connection = Connection.OpenForWriting(place.Database)) connection.Run("PRAGMA user_version = 99");
        var before = Files(place);
        var newer = Assert.IsType<JournalOpening.TooNew>(Journal.Open(place.Path, Place.Shard, Place.Plain));
        Assert.Equal((99, Schema.Version), (newer.Version, newer.Known));
        Assert.Equal(before, Files(place));
    }

    [Fact]
    public void A_place_that_cannot_be_written_is_said()
    {
        using var place = new Place();
        var file = Path.Combine(place.Path, "file");
        File.WriteAllText(file, "");
        Assert.IsType<JournalOpening.NotWritable>(Journal.Open(file, Place.Shard, Place.Plain));
        Assert.IsType<JournalOpening.NotWritable>(Journal.Open(Path.Combine(file, "below"), Place.Shard, Place.Plain));
    }

    [Fact]
    public void A_reader_of_a_journal_that_is_not_there_hears_so()
    {
        using var place = new Place();
        Assert.IsType<ReaderOpening.Absent>(JournalReader.Open(place.Path, Place.Shard));
    }

    private static void Damage(Place place, string how)
    {
        if (how == "garbage") File.WriteAllText(place.Database, new string('g', 10_000));
        if (how == "log without database") File.WriteAllText(place.Database + "-wal", new string('g', 10_000));
        if (how == "other program")
        {
            using var connection = Connection.OpenForWriting(place.Database);
            connection.Run("CREATE TABLE x(y)");
        }

        if (how == "damaged page")
        {
            using (var journal = place.Open()) journal.Commit(new Batch(1) { Inputs = [.. Enumerable.Range(0, 2_000).Select(i => Some.Input(Some.Truck, i))] }).Done();
            using var file = new FileStream(place.Database, FileMode.Open);
            file.Position = file.Length / 2;
            file.Write(new byte[5_000]);
        }

        if (how == "other shard")
        {
            Assert.IsType<JournalOpening.Opened>(Journal.Open(place.Path, "south", Place.Plain)).Journal.Dispose();
            File.Move(Path.Combine(place.Path, "south.db"), place.Database);
        }
    }

    private static string Files(Place place) => string.Join('\n', Directory.GetFiles(place.Path, "*.db*").Order(StringComparer.Ordinal)
        .Where(f => !f.EndsWith("-shm", StringComparison.Ordinal) && new FileInfo(f).Length > 0)
        .Select(f => $"{f} {Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(f)))}"));
}
