using System.Collections.Immutable;
using System.Diagnostics;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage;
using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Benchmarks.Storage;

/// <summary>
/// Processor time per message of committing, by messages in a batch: an input of 126 bytes, without and with a checkpoint of 64 bytes of its
/// own vehicle, of 1 000 vehicles that each have a lane's checkpoint of 3 000 bytes beside it. The making of the rows is included.
/// </summary>
internal static class CommitCost
{
    private const int Vehicles = 1_000;

    private static readonly ImmutableArray<VehicleKey> Keys = [.. Enumerable.Range(0, Vehicles).Select(i => new VehicleKey("north", $"T-{i:000}"))];
    private static readonly ImmutableArray<byte> Payload = [.. Enumerable.Range(0, 126).Select(i => (byte)('a' + (i % 26)))];

    public static void Run()
    {
        foreach (var size in (int[])[1, 10, 100, 1_000])
        {
            var plain = Measure(size, withCheckpoint: false);
            var both = Measure(size, withCheckpoint: true);
            Console.WriteLine($"{size,5} messages a batch: {plain:0.0} us a message, with a checkpoint each {both:0.0} us");
        }
    }

    private static double Measure(int size, bool withCheckpoint)
    {
        var directory = Directory.CreateTempSubdirectory("commit-").FullName;
        try
        {
            using var journal = Opened(directory);
            Commit(journal, new Batch(1) { Checkpoints = [.. Keys.Select(k => new CheckpointRow(k, new RowKind(0), 1, [.. new byte[3_000]]))] });
            var (batches, sent) = (size == 1 ? 4_000 : 100_000 / size, 0);
            var (warm, before) = (batches / 4, TimeSpan.Zero);
            for (var b = 0; b < batches + warm; b++)
            {
                if (b == warm) before = Process.GetCurrentProcess().TotalProcessorTime;
                Commit(journal, Made(b + 2, size, withCheckpoint, ref sent));
            }

            return (Process.GetCurrentProcess().TotalProcessorTime - before).TotalMicroseconds / ((double)batches * size);
        }
        finally
        {
            Directory.Delete(directory, recursive: true);
        }
    }

    private static Batch Made(long number, int size, bool withCheckpoint, ref int sent)
    {
        var inputs = ImmutableArray.CreateBuilder<InputRow>(size);
        var checkpoints = ImmutableArray.CreateBuilder<CheckpointRow>(size);
        for (var i = 0; i < size; i++, sent++)
        {
            // A stride, so that vehicles of a batch do not stand beside one another.
            var (vehicle, at) = (Keys[sent * 617 % Vehicles], new Moment(1_772_432_045_000 + sent));
            inputs.Add(new InputRow { Vehicle = vehicle, Kind = new RowKind(1), Received = at, Samples = SampleSpan.At(at), Bytes = Payload });
            if (withCheckpoint) checkpoints.Add(new CheckpointRow(vehicle, new RowKind(1), 1, [.. BitConverter.GetBytes(at.UnixMilliseconds), .. new byte[56]]));
        }

        return new Batch(number) { Inputs = inputs.ToImmutable(), Checkpoints = checkpoints.ToImmutable() };
    }

    internal static Journal Opened(string directory) => Journal.Open(directory, "main", new JournalOptions { ReserveBytes = 0 }) is JournalOpening.Opened opened
        ? opened.Journal
        : throw new InvalidOperationException("The journal does not open.");

    internal static void Commit(Journal journal, Batch batch)
    {
        if (journal.Commit(batch) is not WriteOutcome.Committed) throw new InvalidOperationException("The journal does not take the batch.");
    }
}
