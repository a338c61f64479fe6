using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Tests.Reading;

public sealed class HistoryTouchedTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void Rows_touched_since_a_moment_are_those_that_a_look_at_every_row_finds(int seed)
    {
        using var place = new Place();
        using var journal = place.Open();
        var random = new Random(seed);
        var kept = new Dictionary<HistoryKey, HistoryRow.Put>();
        for (var number = 1; number <= 40; number++)
        {
            var changes = Enumerable.Range(0, 10).Select(_ => Anything(random)).ToArray();
            journal.Commit(new Batch(number) { History = [.. changes] }).Done();
            foreach (var change in changes)
            {
                if (change is HistoryRow.Put put) kept[change.Key] = put;
                else kept.Remove(change.Key);
            }
        }

        using var reader = journal.Reader();
        for (var second = -10; second < 130; second += 7)
        {
            var expected = kept.Values.Where(p => p.Key.Vehicle == Some.Truck && (p.Key.Time >= Some.At(second) || p.Touched >= Some.At(second)))
                .OrderBy(p => p.Key.Kind.Code).ThenBy(p => p.Key.Time).ThenBy(p => p.Key.Key, StringComparer.Ordinal).Select(Line);
            Assert.Equal(expected, reader.Touched(Some.Truck, Some.At(second)).Select(k => Line(k.Row)));
        }

        foreach (var kind in Enumerable.Range(0, 4).Select(k => new RowKind(k)))
        {
            var last = kept.Values.Where(p => p.Key.Vehicle == Some.Truck && p.Key.Kind == kind).OrderBy(p => p.Key.Time).ThenBy(p => p.Key.Key, StringComparer.Ordinal).LastOrDefault();
            Assert.Equal(last is null ? null : Line(last), reader.LastHistory(Some.Truck, kind) is { } read ? Line(read.Row) : null);
        }

        Assert.Empty(reader.Touched(new VehicleKey("north", "never"), Some.At(0)));
    }

    [Fact]
    public void A_touch_at_the_time_of_the_row_costs_no_entry_in_an_index_and_another_touch_is_a_change()
    {
        using var place = new Place();
        using var journal = place.Open();
        journal.Commit(new Batch(1) { History = [Often("a") with { Touched = Some.At(0) }] }).Done();
        using var connection = Connection.OpenForReading(place.Database);
        Assert.Equal(0, connection.Number("SELECT count(*) FROM history WHERE touched IS NOT NULL"));
        journal.Commit(new Batch(2) { History = [Often("a") with { Touched = Some.At(9) }] }).Done();
        journal.Commit(new Batch(3) { History = [Often("a") with { Touched = Some.At(9) }] }).Done();
        using var reader = journal.Reader();
        var put = Assert.IsType<HistoryRow.Put>(Assert.IsType<OutputChange.History>(Assert.Single(reader.Changes(Position.Start, 10))).Row);
        Assert.Equal((new Position(2, 0), Some.At(9)), (reader.Changes(Position.Start, 10)[0].Position, put.Touched));
        journal.Commit(new Batch(4) { History = [Often("a")] }).Done();
        Assert.Equal(0, connection.Number("SELECT count(*) FROM history WHERE touched IS NOT NULL"));
        Assert.Equal(new Position(4, 0), Assert.Single(reader.Changes(Position.Start, 10)).Position);
    }

    private static HistoryRow.Put Often(string text) => new(Some.Key(0) with { Kind = new RowKind(0) }, Some.Bytes(text));

    private static HistoryRow Anything(Random random)
    {
        var key = new HistoryKey(random.Next(2) == 0 ? Some.Truck : Some.Other, new RowKind(random.Next(3)), Some.At(random.Next(60)), $"k{random.Next(2)}");
        if (random.Next(4) == 0) return new HistoryRow.Void(key);
        Moment? touched = random.Next(2) == 0 ? null : key.Time.Plus(random.Next(60));
        return new HistoryRow.Put(key, Some.Bytes($"{random.Next(100)}")) { Touched = touched };
    }

    private static string Line(HistoryRow.Put put) => $"{put.Key} {Some.Text(put.Bytes)} {put.Touched ?? put.Key.Time}";
}
