using AxleTelemetry.Storage.Copying;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Tests.Copying;

public sealed class DatabaseCopyTests
{
    private const int Copies = 12, RowsOfBatch = 40;

    [Fact]
    public async Task A_copy_taken_while_batches_are_committed_has_the_history_of_the_batch_it_ends_at()
    {
        using var place = new Place();
        using var journal = place.Open();
        var digests = new Dictionary<long, string>();
        using var done = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        using var committed = new SemaphoreSlim(0);
        var writing = Task.Run(() =>
        {
            // What the journal itself says after each batch is what a copy that ends there has to say.
            using var reader = journal.Reader();
            for (var batch = 1L; !done.IsCancellationRequested; batch++)
            {
                journal.Commit(new Batch(batch) { History = [.. Enumerable.Range(0, RowsOfBatch).Select(i => Some.Put(i, $"batch {batch}", $"k{batch % 7} {i}"))], Inputs = [Some.Input(Some.Truck, batch)] }).Done();
                digests.Add(batch, reader.Digest());
                committed.Release();
            }
        }, TestContext.Current.CancellationToken);
        var copies = Enumerable.Range(0, Copies).Select(i => Path.Combine(place.Path, $"copy-{i}")).ToList();
        foreach (var copy in copies)
        {
            await committed.WaitAsync(TestContext.Current.CancellationToken);
            DatabaseCopy.Take(place.Database, copy);
        }

        await done.CancelAsync();
        await writing;
        var found = copies.ConvertAll(c => Assert.IsType<DatabaseStanding.OfShard>(DatabaseCopy.Look(c)));
        Assert.All(found, copy => Assert.Equal((Place.Shard, digests[copy.Batch]), (copy.Shard, copy.Digest)));
        Assert.Equal(found.Select(c => c.Batch).Order(), found.Select(c => c.Batch));
        Assert.True(found[^1].Batch >= Copies, "Nothing was committed between the copies.");
        Assert.All(copies, copy => Assert.False(File.Exists(copy + "-wal"), "A copy is one file."));
    }

    [Fact]
    public void A_damaged_copy_is_told_from_a_whole_one_and_a_database_of_others_is_just_whole()
    {
        using var place = new Place();
        using (var journal = place.Open()) journal.Commit(new Batch(1) { History = [.. Enumerable.Range(0, 2_000).Select(i => Some.Put(i, new string('v', 100), $"k{i}"))] }).Done();
        var copy = Path.Combine(place.Path, "copy");
        DatabaseCopy.Take(place.Database, copy);
        Assert.IsType<DatabaseStanding.OfShard>(DatabaseCopy.Look(copy));
        using (var file = new FileStream(copy, FileMode.Open, FileAccess.Write))
        {
            file.Position = file.Length / 2;
            file.Write(new byte[8_192]);
        }

        Assert.IsType<DatabaseStanding.Damaged>(DatabaseCopy.Look(copy));
        Assert.IsType<DatabaseStanding.Sound>(DatabaseCopy.Look(Path.Combine(place.Path, "of-nobody")));
    }
}
