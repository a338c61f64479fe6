using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage;
using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Writing;
using BenchmarkDotNet.Attributes;
using BenchmarkDotNet.Engines;

namespace AxleTelemetry.Benchmarks.Storage;

/// <summary>
/// What a commit costs, by rows in it: inputs of 124 bytes from 100 vehicles, on the disk under the temporary directory, sync and the making
/// of the rows included. The journal grows while it is measured, as it does in use. Wall time; processor time is less by the wait for the disk.
/// </summary>
[MemoryDiagnoser]
[SimpleJob(RunStrategy.Throughput, warmupCount: 3, iterationCount: 10)]
public class CommitBenchmarks
{
    private const long Start = 1_772_432_045_000;

    private readonly ImmutableArray<byte> payload = [.. Enumerable.Range(0, 124).Select(i => (byte)('a' + (i % 26)))];
    private ImmutableArray<VehicleKey> vehicles = [];
    private string directory = string.Empty;
    private Journal? journal;
    private long number;

    /// <summary>Rows per commit.</summary>
    [Params(1, 10, 100, 1_000)]
    public int Rows { get; set; }

    [GlobalSetup]
    public void Setup()
    {
        vehicles = [.. Enumerable.Range(0, 100).Select(i => new VehicleKey("north", $"T-{i:00}"))];
        directory = Directory.CreateTempSubdirectory("commit-").FullName;
        journal = Journal.Open(directory, "main", new JournalOptions()) is JournalOpening.Opened opened
            ? opened.Journal
            : throw new InvalidOperationException("The journal does not open.");
    }

    [GlobalCleanup]
    public void Cleanup()
    {
        journal?.Dispose();
        Directory.Delete(directory, recursive: true);
    }

    [Benchmark]
    public WriteOutcome Commit()
    {
        // Time goes on from commit to commit: rows of one moment over and over would fall between one another in the index, as no vehicle's do.
        number++;
        return journal!.Commit(new Batch(number) { Inputs = [.. Enumerable.Range(0, Rows).Select(Input)] });
    }

    private InputRow Input(int i) => new()
    {
        Vehicle = vehicles[i % vehicles.Length],
        Kind = new RowKind(1),
        Received = new Moment(Start + (number * 1_000) + i),
        Samples = SampleSpan.At(new Moment(Start + (number * 1_000) + i)),
        Bytes = payload,
    };
}
