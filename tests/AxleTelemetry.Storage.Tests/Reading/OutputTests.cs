using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Tests.Reading;

public sealed class OutputTests
{
    [Fact]
    public void Changes_come_in_order_each_row_at_its_last_change_and_void_rows_are_said()
    {
        using var place = new Place();
        using var journal = place.Open();
        journal.Commit(new Batch(1) { History = [Some.Put(0, "a", "a"), Some.Put(0, "b", "b")], Telling = [Some.Telling(0, "t")] }).Done();
        journal.Commit(new Batch(2) { History = [new HistoryRow.Void(Some.Key(0, "a")), Some.Put(0, "b", "b"), new HistoryRow.Void(Some.Key(0, "never"))] }).Done();
        journal.Commit(new Batch(3) { History = [Some.Put(0, "c", "b")] }).Done();
        using var reader = journal.Reader();
        Assert.Equal(["told t", "void a", "put b c"], reader.Changes(Position.Start, 10).Select(Some.Line));
        Assert.Equal(["told t", "void a"], reader.Changes(Position.Start, 2).Select(Some.Line));
        Assert.Equal(["put b c"], reader.Changes(new Position(2, 0), 10).Select(Some.Line));
        Assert.Equal("b", Assert.Single(reader.History(new HistoryQuery(Some.Truck, Some.Kind, Some.Always))).Row.Key.Key);
        Assert.Single(reader.Told(Position.Start, 10));
    }

    [Fact]
    public void What_a_cursor_has_passed_of_a_row_is_said_beside_its_next_change_and_nothing_else_is()
    {
        using var place = new Place();
        using var journal = place.Open();
        journal.Commit(new Batch(1) { History = [Some.Put(0, "a1", "a"), Some.Put(0, "b1", "b")] }).Done();
        journal.Claim("outside", new Position(1, 1)).Done();
        journal.Advance("outside", new Position(1, 1)).Done();
        // Another reader, that carries no rows, is of no interest.
        journal.Advance("elsewhere", new Position(2, 2)).Done();
        // Of two changes that nobody has seen the first is of no interest: what stands outside is still what was passed.
        journal.Commit(new Batch(2) { History = [Some.Put(0, "a2", "a"), new HistoryRow.Void(Some.Key(0, "b")), Some.Put(0, "c1", "c")] }).Done();
        journal.Commit(new Batch(3) { History = [Some.Put(0, "a3", "a"), Some.Put(0, "c2", "c")] }).Done();
        using var reader = journal.Reader();
        Assert.Equal(["void b was b1", "put a a3 was a1", "put c c2 was "], Said(reader, new Position(1, 1)));
        journal.AdvanceAndClaim("outside", new Position(3, 1), new Position(3, 1)).Done();
        journal.Commit(new Batch(4) { History = [Some.Put(0, "b2", "b"), Some.Put(0, "a4", "a")] }).Done();
        Assert.Equal(["put b b2 was ", "put a a4 was a3"], Said(reader, new Position(3, 1)));
    }

    [Fact]
    public void What_may_have_been_carried_when_a_row_changed_is_said_too_until_the_cursor_has_passed()
    {
        using var place = new Place();
        using var journal = place.Open();
        journal.Commit(new Batch(1) { History = [Some.Put(0, "a1", "a"), Some.Put(0, "b1", "b")] }).Done();
        // It is being carried, and nobody knows whether it got there, when it changes; and again after the next claim.
        journal.Claim("outside", new Position(1, 1)).Done();
        journal.Commit(new Batch(2) { History = [Some.Put(0, "a2", "a"), new HistoryRow.Void(Some.Key(0, "b"))] }).Done();
        using var reader = journal.Reader();
        Assert.Equal(["put a a2 was a1", "void b was b1"], Said(reader, new Position(1, 1)));
        journal.Claim("outside", new Position(2, 1)).Done();
        journal.Commit(new Batch(3) { History = [Some.Put(0, "a3", "a"), Some.Put(0, "b3", "b")] }).Done();
        Assert.Equal(["put a a3 was a1 a2", "put b b3 was b1"], Said(reader, new Position(2, 1)));
        journal.Advance("outside", new Position(3, 1)).Done();
        journal.Commit(new Batch(4) { History = [Some.Put(0, "a4", "a")] }).Done();
        Assert.Equal(["put a a4 was a3"], Said(reader, new Position(3, 1)));
    }

    [Fact]
    public void A_row_that_comes_back_is_in_force_again()
    {
        using var place = new Place();
        using var journal = place.Open();
        journal.Commit(new Batch(1) { History = [Some.Put(0, ""), new HistoryRow.Void(Some.Key(0)), Some.Put(0, "")] }).Done();
        using var reader = journal.Reader();
        Assert.Equal(new Position(1, 2), Assert.Single(reader.History(new HistoryQuery(Some.Truck, Some.Kind, Some.Always))).Position);
    }

    [Fact]
    public void Pages_of_history_join_without_gap_or_repeat()
    {
        using var place = new Place();
        using var journal = place.Open();
        var rows = Enumerable.Range(0, 100).Select(i => Some.Put(i / 7, $"{i}", $"k{i:000}")).ToArray();
        journal.Commit(new Batch(1) { History = [.. rows] }).Done();
        using var reader = journal.Reader();
        var query = new HistoryQuery(Some.Truck, Some.Kind, new SampleSpan(Some.At(2), Some.At(10))) { Limit = 9 };
        var read = new List<string>();
        while (reader.History(query) is { Length: > 0 } page)
        {
            read.AddRange(page.Select(r => Some.Text(r.Row.Bytes)));
            query = query with { After = (page[^1].Row.Key.Time, page[^1].Row.Key.Key) };
        }

        Assert.Equal(Enumerable.Range(14, 63).Select(i => $"{i}"), read);
    }

    private static IEnumerable<string> Said(JournalReader reader, Position after) =>
        reader.Changes(after, 10).Cast<OutputChange.History>().Select(c => $"{Some.Line(c)} was {string.Join(' ', c.Carried.Select(v => Some.Text(v)))}");
}
