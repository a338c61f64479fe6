using System.Diagnostics;
using System.Globalization;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Tests.Crashing;

public sealed class CrashTests
{
    private const int Kills = 20;

    [Fact]
    public async Task After_each_kill_of_a_writer_the_journal_is_sound_and_no_batch_is_half()
    {
        using var place = new Place();
        var random = new Random(20260302);
        for (var kill = 0; kill < Kills; kill++)
        {
            var said = await KilledAfter(place.Path, 1 + random.Next(60), random.Next(200));
            using var reader = Assert.IsType<ReaderOpening.Opened>(JournalReader.Open(place.Path, Place.Shard)).Reader;
            Assert.Equal(string.Empty, reader.IntegrityCheck());
            var last = reader.LastBatch();
            Assert.True(last >= said, $"batch {said} was said to be committed, the journal ends at {last}");
            AssertWhole(reader, last);
        }

        using var journal = place.Open();
        Assert.Equal(Kills + 1, journal.Epoch);
    }

    private static void AssertWhole(JournalReader reader, long last)
    {
        var inputs = new List<LoggedInput>();
        for (var after = Position.Start; reader.Inputs(after, 500) is { Length: > 0 } page; after = page[^1].Position) inputs.AddRange(page);
        var perBatch = inputs.GroupBy(i => i.Position.Batch).ToDictionary(g => g.Key, g => g.Select(i => i.Position.Row).ToArray());
        Assert.Equal(last, perBatch.Count);
        for (var number = 1L; number <= last; number++) Assert.Equal(Enumerable.Range(0, CommitLoop.Inputs(number)), perBatch[number]);

        var changes = reader.Changes(Position.Start, int.MaxValue);
        Assert.Equal(2 * last, changes.Length);
        Assert.All(changes.GroupBy(c => c.Position.Batch), g => Assert.Equal(2, g.Count()));
        var checkpoint = Assert.Single(reader.Checkpoints(null, 10));
        Assert.Equal(last, BitConverter.ToInt64(checkpoint.Row.Bytes.AsSpan()));
        Assert.Equal(last, checkpoint.Batch);
    }

    /// <summary>Starts a writer, waits until it said so many batches, spins a little so that the kill meets any place of a commit, kills it.</summary>
    private static async Task<long> KilledAfter(string directory, int lines, int spins)
    {
        var start = new ProcessStartInfo(Environment.ProcessPath!) { RedirectStandardOutput = true };
        if (Path.GetFileNameWithoutExtension(Environment.ProcessPath) == "dotnet") start.ArgumentList.Add(typeof(CommitLoop).Assembly.Location);
        start.ArgumentList.Add(CommitLoop.Argument);
        start.ArgumentList.Add(directory);
        using var writer = Process.Start(start)!;
        using var deadline = new CancellationTokenSource(TimeSpan.FromSeconds(60));
        var said = 0L;
        for (var line = 0; line < lines; line++)
        {
            var text = await writer.StandardOutput.ReadLineAsync(deadline.Token);
            said = long.Parse(text ?? throw new InvalidOperationException("The writer ended by itself."), CultureInfo.InvariantCulture);
        }

        Thread.SpinWait(spins * 100);
        writer.Kill();
        await writer.WaitForExitAsync(deadline.Token);
        return said;
    }
}
