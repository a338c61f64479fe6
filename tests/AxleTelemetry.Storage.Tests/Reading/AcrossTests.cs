using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Tests.Reading;

public sealed class AcrossTests
{
    private const int Day = 86_400;

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void Pages_hold_what_a_look_at_every_row_finds_in_either_order(int seed)
    {
        using var place = new Place();
        using var journal = place.Open();
        var random = new Random(seed);
        var rows = Enumerable.Range(0, 400).Select(_ => Anything(random)).DistinctBy(r => r.Key).ToArray();
        journal.Commit(new Batch(1) { History = [.. rows] }).Done();
        var gone = random.GetItems(rows, 30).Select(r => r.Key).ToHashSet();
        journal.Commit(new Batch(2) { History = [.. gone.Select(k => new HistoryRow.Void(k))] }).Done();
        var kept = rows.Where(r => !gone.Contains(r.Key)).ToArray();
        using var reader = journal.Reader();
        for (var round = 0; round < 60; round++)
        {
            var query = Query(random);
            var expected = kept.Where(r => IsAskedFor(query, r)).OrderBy(r => r.Key.Time).ThenBy(r => r.Key.Vehicle.Fleet, StringComparer.Ordinal)
                .ThenBy(r => r.Key.Vehicle.Vehicle, StringComparer.Ordinal).ThenBy(r => r.Key.Key, StringComparer.Ordinal).Select(r => r.Key.ToString()).ToArray();
            if (query.NewestFirst) Array.Reverse(expected);
            Assert.True(expected.SequenceEqual(Pages(reader, query)), $"seed {seed}, {query}");
        }
    }

    [Fact]
    public void The_kind_that_comes_all_the_time_is_listed_for_one_vehicle_only()
    {
        using var place = new Place();
        using var journal = place.Open();
        var often = new RowKind(0);
        journal.Commit(new Batch(1) { History = [new HistoryRow.Put(Some.Key(0) with { Kind = often }, Some.Bytes("a"))] }).Done();
        using var reader = journal.Reader();
        Assert.Throws<ArgumentException>(() => reader.HistoryAcross(new AcrossQuery(often, Some.Always)));
        Assert.Single(reader.HistoryAcross(new AcrossQuery(often, Some.Always) { Vehicle = Some.Truck }));
        Assert.Empty(reader.HistoryAcross(new AcrossQuery(often, Some.Always) { Vehicle = Some.Other }));
    }

    private static IEnumerable<string> Pages(JournalReader reader, AcrossQuery query)
    {
        while (reader.HistoryAcross(query) is { Length: > 0 } page)
        {
            Assert.True(page.Length <= query.Limit);
            foreach (var row in page) yield return row.Row.Key.ToString();
            query = query with { After = AcrossPlace.Of(page[^1]) };
        }
    }

    // Times are few, so that the order goes on to vehicles and keys; lasting from nothing to eight days, a day exactly among them.
    private static HistoryRow.Put Anything(Random random)
    {
        var key = new HistoryKey(new VehicleKey($"f{random.Next(3)}", $"v{random.Next(5)}"), new RowKind(1 + random.Next(2)), Some.At(random.Next(40) * Day / 4), $"k{random.Next(3)}");
        var lasted = random.Next(4) switch { 0 => 0, 1 => random.Next(Day), 2 => Day, _ => random.Next(8 * Day) };
        return new HistoryRow.Put(key, Some.Bytes("e")) { Touched = key.Time.Plus(lasted) };
    }

    private static AcrossQuery Query(Random random)
    {
        var least = Some.At(random.Next(12 * Day));
        return new AcrossQuery(Some.Kind, new SampleSpan(least, least.Plus(random.Next(4 * Day))))
        {
            Fleet = random.Next(3) == 0 ? "f1" : null,
            Vehicle = random.Next(3) == 0 ? new VehicleKey("f1", "v2") : null,
            NewestFirst = random.Next(2) == 0,
            Limit = 1 + random.Next(12),
        };
    }

    private static bool IsAskedFor(AcrossQuery query, HistoryRow.Put row) => row.Key.Kind == query.Kind
        && query.Times.Meets(new SampleSpan(row.Key.Time, row.Touched ?? row.Key.Time))
        && (query.Fleet is null || query.Fleet == row.Key.Vehicle.Fleet) && (query.Vehicle is null || query.Vehicle == row.Key.Vehicle);
}
