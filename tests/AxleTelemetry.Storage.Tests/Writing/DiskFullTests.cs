using System.Diagnostics;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Keeping;
using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Storage.Tests.Writing;

public sealed class DiskFullTests
{
    private const int ReserveBytes = 8 << 20;

    [Fact]
    public void On_a_full_disk_commits_fail_retention_still_works_and_commits_succeed_after_it()
    {
        using var disk = SmallDisk.OfMebibytes(24);
        using var journal = Open(disk);
        var filled = Fill(journal, 1);
        Assert.True(journal.IsShortOfRoom);
        Assert.False(File.Exists(Path.Combine(disk.Path, "main.reserve")));
        Assert.IsType<WriteOutcome.DiskFull>(journal.Commit(Batch(filled)));
        Assert.Equal(filled - 1, journal.LastBatch());

        // Half of the inputs may go.
        var plan = Plan(Some.At(filled / 2.0));
        Assert.True(Outcomes.Through(() => journal.Retain(plan)) > 0);
        journal.Commit(Batch(filled)).Done();
        Assert.False(journal.IsShortOfRoom);
        Assert.Equal(ReserveBytes, new FileInfo(Path.Combine(disk.Path, "main.reserve")).Length);
        using var reader = journal.Reader();
        Assert.Equal(string.Empty, reader.IntegrityCheck());
        Assert.Equal(filled, reader.LastBatch());
    }

    [Fact]
    public void A_disk_filled_by_others_leaves_room_for_a_clean_stop_and_all_is_there_when_space_returns()
    {
        using var disk = SmallDisk.OfMebibytes(24);
        var other = Path.Combine(disk.Path, "other");
        long stopped;
        using (var journal = Open(disk))
        {
            journal.Commit(Batch(1)).Done();
            FillFile(other);
            stopped = Fill(journal, 2);
            journal.Advance("outside", new Position(1, 0)).Done();
        }

        using (var again = Open(disk))
        {
            Assert.True(again.IsShortOfRoom);
            Assert.Equal(stopped - 1, again.LastBatch());
            Assert.IsType<WriteOutcome.DiskFull>(again.Commit(Batch(stopped)));
            File.Delete(other);
            again.Commit(Batch(stopped)).Done();
            using var reader = again.Reader();
            Assert.Equal(stopped, reader.Inputs(Position.Start, int.MaxValue).Select(i => i.Position.Batch).Distinct().LongCount());
        }
    }

    private static Journal Open(SmallDisk disk) => Assert.IsType<JournalOpening.Opened>(Journal.Open(disk.Path, "main", new JournalOptions { ReserveBytes = ReserveBytes })).Journal;

    private static Batch Batch(long number)
    {
        var noise = new byte[50_000];
        new Random((int)number).NextBytes(noise);
        return new Batch(number) { Inputs = [Some.Input(Some.Truck, number) with { Bytes = [.. noise] }] };
    }

    /// <summary>Commits until the disk is full; the number of the batch that failed.</summary>
    private static long Fill(Journal journal, long number)
    {
        while (journal.Commit(Batch(number)) is var outcome)
        {
            if (outcome is WriteOutcome.DiskFull) return number;
            outcome.Done();
            number++;
        }

        return number;
    }

    private static void FillFile(string path)
    {
        try
        {
            using var file = new FileStream(path, FileMode.Create, FileAccess.Write, FileShare.None, bufferSize: 0);
            while (true) file.Write(new byte[65_536]);
        }
        catch (IOException)
        {
            Assert.True(File.Exists(path));
        }
    }

    private static RetentionPlan Plan(Moment inputsBefore) => new()
    {
        InputsBefore = inputsBefore,
        TellingBefore = inputsBefore,
        Pins = new Pins { RerunFrom = new Moment(long.MaxValue), SlowestCursor = Position.End },
    };

    private sealed class SmallDisk : IDisposable
    {
        public string Path { get; } = Directory.CreateTempSubdirectory("small-disk-").FullName;

        public static SmallDisk OfMebibytes(int size)
        {
            var disk = new SmallDisk();
            if (!OperatingSystem.IsLinux() || Run("mount", "-t", "tmpfs", "-o", $"size={size}m", "tmpfs", disk.Path) != 0)
            {
                Directory.Delete(disk.Path);
                Assert.Skip("mounting a small tmpfs is not permitted here");
            }

            return disk;
        }

        public void Dispose()
        {
            if (Run("umount", Path) == 0) Directory.Delete(Path, recursive: true);
        }

        private static int Run(string program, params string[] arguments)
        {
            using var process = Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardError = true })!;
            process.StandardError.ReadToEnd();
            process.WaitForExit();
            return process.ExitCode;
        }
    }
}
