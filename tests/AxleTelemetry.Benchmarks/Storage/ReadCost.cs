using System.Collections.Immutable;
using System.Diagnostics;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Benchmarks.Storage;

/// <summary>
/// What reading history costs. 'build' makes a journal with a load a minute of every vehicle and a few episodes a day; 'read' reads it in a
/// process of its own, cold when the system was told to forget the file in between.
/// </summary>
internal static class ReadCost
{
    private const long Start = 1_772_432_040_000;
    private const int RowsPerBatch = 20_000;
    private const int LoadBytes = 160;
    private const long Minute = 60_000;

    private static readonly RowKind Load = new(0);
    private static readonly RowKind Episode = new(1);

    /// <summary>Loads for days, then three episodes a vehicle and day for episode days, in the order of time.</summary>
    public static void Build(string directory, int vehicles, (int Loads, int Episodes) days)
    {
        using var journal = CommitCost.Opened(directory);
        var number = journal.LastBatch()!.Value;
        var clock = Stopwatch.StartNew();
        foreach (var part in Loads(vehicles, days.Loads).Concat(Episodes(vehicles, days.Episodes)).Chunk(RowsPerBatch))
        {
            CommitCost.Commit(journal, new Batch(++number) { History = [.. part] });
        }

        Console.WriteLine($"built in {clock.Elapsed.TotalSeconds:0} s, {journal.Bytes / 1e6:0} MB");
    }

    public static void Read(string directory, int vehicle)
    {
        using var reader = JournalReader.Open(directory, "main") is ReaderOpening.Opened opened ? opened.Reader : throw new InvalidOperationException("The journal does not open.");
        Timed("loads of one vehicle, pages of 5 000", () => Pages(reader, Key(vehicle)));
        Timed("the same again", () => Pages(reader, Key(vehicle)));
        Timed("touched in the last hour of loads", () => reader.Touched(Key(vehicle), reader.LastHistory(Key(vehicle), Load) is { } last ? last.Row.Key.Time.Plus(-3_600) : default).Length);
        var newest = reader.LastHistory(Key(vehicle), Episode)?.Row.Key.Time ?? new Moment(Start);
        var week = new SampleSpan(newest.Plus(-7 * 86_400), newest);
        var old = new SampleSpan(new Moment(Start).Plus(40 * 86_400), new Moment(Start).Plus(41 * 86_400));
        Timed("episodes of the last week, first page", () => reader.HistoryAcross(new AcrossQuery(Episode, week)).Length);
        Timed("episodes of one day long ago, first page", () => reader.HistoryAcross(new AcrossQuery(Episode, old)).Length);
        Timed("the same, the oldest first", () => reader.HistoryAcross(new AcrossQuery(Episode, old) { NewestFirst = false }).Length);
        Timed("episodes ever, of a fleet that has none", () => reader.HistoryAcross(new AcrossQuery(Episode, new SampleSpan(new Moment(Start), newest)) { Fleet = "none" }).Length);
        Timed("episodes ever, of one vehicle", () => reader.HistoryAcross(new AcrossQuery(Episode, new SampleSpan(new Moment(Start), newest)) { Vehicle = Key(vehicle) }).Length);
    }

    private static int Pages(JournalReader reader, VehicleKey vehicle)
    {
        var query = new HistoryQuery(vehicle, Load, new SampleSpan(new Moment(Start), new Moment(Start + (30 * 1_440 * Minute)))) { Limit = 5_000 };
        var rows = 0;
        while (reader.History(query) is { Length: > 0 } page)
        {
            rows += page.Length;
            query = query with { After = (page[^1].Row.Key.Time, page[^1].Row.Key.Key) };
        }

        return rows;
    }

    private static IEnumerable<HistoryRow> Loads(int vehicles, int days)
    {
        var random = new Random(1);
        for (var minute = 0L; minute < days * 1_440L; minute++)
        {
            for (var v = 0; v < vehicles; v++) yield return new HistoryRow.Put(new HistoryKey(Key(v), Load, new Moment(Start + (minute * Minute)), ""), Noise(random, LoadBytes));
        }
    }

    // One in a hundred lasts up to a week.
    private static IEnumerable<HistoryRow> Episodes(int vehicles, int days)
    {
        var random = new Random(2);
        for (var third = 0L; third < days * 3L; third++)
        {
            for (var v = 0; v < vehicles; v++)
            {
                var key = new HistoryKey(Key(v), Episode, new Moment(Start + (third * 480 * Minute) + v), "axle/1");
                yield return new HistoryRow.Put(key, Noise(random, LoadBytes)) { Touched = key.Time.Plus(random.Next(100) == 0 ? random.Next(7 * 86_400) : random.Next(7_200)) };
            }
        }
    }

    private static ImmutableArray<byte> Noise(Random random, int length)
    {
        var bytes = new byte[length];
        random.NextBytes(bytes);
        return System.Runtime.InteropServices.ImmutableCollectionsMarshal.AsImmutableArray(bytes);
    }

    private static VehicleKey Key(int vehicle) => new("north", $"T-{vehicle:00000}");

    private static void Timed(string what, Func<int> read)
    {
        var clock = Stopwatch.StartNew();
        var rows = read();
        Console.WriteLine($"{what}: {rows} rows, {clock.Elapsed.TotalMilliseconds:0.0} ms");
    }
}
