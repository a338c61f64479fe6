using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sealing;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Tests.Sealing;

public sealed class SealingTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    public void Sealing_step_by_step_changes_nothing_that_is_read(int seed)
    {
        using var place = new Place();
        using var journal = place.Open();
        var random = new Random(seed);
        for (var number = 1; number <= 30; number++)
        {
            // Over three hours, in order or late, some spanning hours.
            journal.Commit(new Batch(number) { Inputs = [.. Enumerable.Range(0, random.Next(20)).Select(_ => Anything(random, number))] }).Done();
        }

        using var reader = journal.Reader();
        var before = Everything(reader, seed);
        for (var steps = 1; journal.Seal(Some.At(9_000)).Done() > 0; steps++)
        {
            Assert.True(before == Everything(reader, seed), $"seed {seed}, after step {steps}");
        }

        Assert.True(Number(place, "SELECT count(*) FROM block") > 3);
        Assert.Equal(0, Number(place, $"SELECT count(*) FROM input WHERE received < {Some.At(9_000).UnixMilliseconds}"));

        // More of the same hours later makes further blocks.
        journal.Commit(new Batch(31) { Inputs = [Some.Input(Some.Truck, 100, "late"), Some.Input(Some.Other, 50, "late")] }).Done();
        before = Everything(reader, seed);
        Assert.Equal(2, Outcomes.Through(() => journal.Seal(Some.At(9_000))));
        Assert.Equal(before, Everything(reader, seed));
    }

    [Fact]
    public void A_block_that_the_disk_changed_is_said_not_read()
    {
        using var place = new Place();
        using var journal = place.Open();
        journal.Commit(new Batch(1) { Inputs = [.. Enumerable.Range(0, 50).Select(i => Some.Input(Some.Truck, i))] }).Done();
        journal.Seal(Some.At(9_000)).Done();
        using (var connection = Connection.OpenForWriting(place.Database)) connection.Run("UPDATE block SET sha256 = zeroblob(32)");
        using var reader = journal.Reader();
        Assert.Throws<DamagedBlockException>(() => reader.Inputs(Position.Start, 10));
    }

    [Fact]
    public void A_step_is_bounded_and_an_input_with_a_receive_time_ahead_does_not_stop_the_rest()
    {
        using var place = new Place();
        using var journal = place.Open();
        var ahead = Some.Input(Some.Truck, 0) with { Received = Some.At(1e9) };
        journal.Commit(new Batch(1) { Inputs = [ahead, .. Enumerable.Range(0, 5_000).Select(_ => Some.Input(Some.Truck, 1))] }).Done();
        Assert.Equal(4_096, journal.Seal(Some.At(9_000)).Done());
        Assert.Equal(904, journal.Seal(Some.At(9_000)).Done());
        Assert.Equal(0, journal.Seal(Some.At(9_000)).Done());
    }

    [Fact]
    public void Pages_are_read_from_an_index_not_sorted_from_the_whole()
    {
        using var place = new Place();
        place.Open().Dispose();
        using var connection = Connection.OpenForReading(place.Database);
        var plan = connection.Sql("EXPLAIN QUERY PLAN SELECT fleet, bytes FROM block JOIN vehicle ON vehicle.id = vehicle WHERE last > ?1 ORDER BY first");
        var lines = new List<string>();
        while (plan.Step()) lines.Add(plan.Text(3));
        Assert.DoesNotContain(lines, l => l.Contains("TEMP B-TREE", StringComparison.Ordinal));
    }

    private static InputRow Anything(Random random, int number)
    {
        var start = (number * 300) - (random.Next(4) == 0 ? random.Next(8_000) : 0);
        var input = Some.Input(random.Next(3) == 0 ? Some.Other : Some.Truck, start, new string('x', random.Next(300)));
        var end = Some.At(start + (random.Next(5) == 0 ? random.Next(6_000) : 1));
        return input with { Received = Some.At(number * 300), Samples = new SampleSpan(input.Samples.Least, end), Stream = new StreamCode(random.Next(7)) };
    }

    private static string Everything(JournalReader reader, int seed)
    {
        var random = new Random(seed);
        var lines = new List<string>();
        for (var after = Position.Start; reader.Inputs(after, 37) is { Length: > 0 } page; after = page[^1].Position) lines.AddRange(page.Select(Some.Line));
        foreach (var vehicle in new[] { Some.Truck, Some.Other })
        {
            lines.AddRange(ByTime(reader, new InputQuery(vehicle, Some.Always) { Limit = 23 }));
            for (var i = 0; i < 10; i++)
            {
                var from = random.Next(-8_000, 9_000);
                lines.AddRange(ByTime(reader, new InputQuery(vehicle, new SampleSpan(Some.At(from), Some.At(from + random.Next(3_000)))) { Limit = 1 + random.Next(20) }));
            }
        }

        return string.Join('\n', lines);
    }

    private static IEnumerable<string> ByTime(JournalReader reader, InputQuery query)
    {
        yield return $"{query.Samples}";
        while (reader.Inputs(query) is { Length: > 0 } page)
        {
            foreach (var input in page) yield return Some.Line(input);
            query = query with { After = InputPlace.Of(page[^1]) };
        }
    }

    private static long Number(Place place, string sql)
    {
        using var connection = Connection.OpenForReading(place.Database);
        return connection.Number(sql);
    }
}
