using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Keeping;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Tests.Keeping;

public sealed class RetentionTests
{
    private static readonly Moment Never = new(long.MinValue);

    [Theory]
    [InlineData(1, false)]
    [InlineData(2, false)]
    [InlineData(3, true)]
    [InlineData(4, true)]
    public void What_is_pinned_or_young_is_read_as_before(int seed, bool isSealed)
    {
        using var place = new Place();
        using var journal = place.Open();
        var random = new Random(seed);
        for (var number = 1; number <= 40; number++)
        {
            journal.Commit(new Batch(number) { Inputs = [.. Enumerable.Range(0, 30).Select(i => Some.Input(i % 2 == 0 ? Some.Truck : Some.Other, (number * 600) + i))] }).Done();
        }

        journal.Commit(new Batch(41) { Corrections = [new CorrectionMark.From(Some.Other, Some.At(9_000))] }).Done();
        if (isSealed) Outcomes.Through(() => journal.Seal(Some.At(30_000)));
        using var reader = journal.Reader();
        var before = reader.Inputs(Position.Start, int.MaxValue);
        var spans = ImmutableArray.Create(new SampleSpan(Some.At(random.Next(5_000)), Some.At(5_000 + random.Next(3_000))));
        var pins = new Pins { RerunFrom = Some.At(20_000), SlowestCursor = new Position(30, 0), Spans = ImmutableDictionary<VehicleKey, ImmutableArray<SampleSpan>>.Empty.Add(Some.Truck, spans) };
        var plan = new RetentionPlan { InputsBefore = Some.At(15_000), TellingBefore = Never, Pins = pins };
        var gone = Outcomes.Through(() => journal.Retain(plan));
        var after = reader.Inputs(Position.Start, int.MaxValue);

        var mustStay = before.Where(i => i.Row.Samples.Greatest >= plan.InputsBefore || i.Position > pins.SlowestCursor
            || (i.Row.Vehicle == Some.Truck ? i.Row.Samples.Meets(spans[0]) : i.Row.Samples.Greatest >= Some.At(9_000))).Select(Some.Line).ToArray();
        Assert.True(gone > 0, $"seed {seed}");
        Assert.Empty(mustStay.Except(after.Select(Some.Line)));
        Assert.Empty(after.Select(Some.Line).Except(before.Select(Some.Line)));
        if (!isSealed) Assert.Equal(mustStay, after.Select(Some.Line));
        Assert.Equal(string.Empty, reader.IntegrityCheck());
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Inputs_of_the_shard_itself_never_go(bool isSealed)
    {
        using var place = new Place();
        using var journal = place.Open();
        journal.Commit(new Batch(1) { Inputs = [Some.Input(VehicleKey.Shard, 0, "configuration"), Some.Input(Some.Truck, 0), Some.Input(VehicleKey.Shard, 5_000, "another")] }).Done();
        if (isSealed) Outcomes.Through(() => journal.Seal(Some.At(20_000)));
        var pins = new Pins { RerunFrom = Some.At(90_000), SlowestCursor = Position.End };
        var plan = new RetentionPlan { InputsBefore = Some.At(90_000), TellingBefore = Never, Pins = pins };
        Assert.Equal(1, Outcomes.Through(() => journal.Retain(plan)));
        using var reader = journal.Reader();
        Assert.Equal(["configuration", "another"], reader.Inputs(Position.Start, 10).Select(i => Some.Text(i.Row.Bytes)));
    }

    [Fact]
    public void Void_rows_stay_until_the_slowest_cursor_has_passed()
    {
        using var place = new Place();
        using var journal = place.Open();
        journal.Commit(new Batch(1) { History = [Some.Put(0, "a")] }).Done();
        journal.Commit(new Batch(2) { History = [new HistoryRow.Void(Some.Key(0))] }).Done();
        using var reader = journal.Reader();
        journal.Advance("fast", new Position(2, 0)).Done();
        journal.Advance("slow", new Position(1, 0)).Done();
        Outcomes.Through(() => journal.Retain(Plan(reader.SlowestCursor())));
        Assert.Equal(["void k"], reader.Changes(Position.Start, 10).Select(Some.Line));
        journal.Advance("slow", new Position(2, 0)).Done();
        Outcomes.Through(() => journal.Retain(Plan(reader.SlowestCursor())));
        Assert.Empty(reader.Changes(Position.Start, 10));
    }

    [Fact]
    public void Void_rows_stay_for_who_has_claimed_them_and_never_moved_its_cursor()
    {
        using var place = new Place();
        using var journal = place.Open();
        journal.Commit(new Batch(1) { History = [Some.Put(0, "a")] }).Done();
        // It may stand outside by now, and nobody has written that down.
        journal.Claim("outside", new Position(1, 0)).Done();
        journal.Commit(new Batch(2) { History = [new HistoryRow.Void(Some.Key(0))] }).Done();
        using var reader = journal.Reader();
        Outcomes.Through(() => journal.Retain(Plan(reader.SlowestCursor())));
        Assert.Equal(["void k"], reader.Changes(Position.Start, 10).Select(Some.Line));
        journal.AdvanceAndClaim("outside", new Position(2, 0), new Position(2, 0)).Done();
        Outcomes.Through(() => journal.Retain(Plan(reader.SlowestCursor())));
        Assert.Empty(reader.Changes(Position.Start, 10));
    }

    [Fact]
    public void A_cursor_that_fell_behind_says_how_many_rows_it_missed()
    {
        using var place = new Place();
        using var journal = place.Open();
        for (var number = 1; number <= 10; number++)
        {
            journal.Commit(new Batch(number) { History = [Some.Put(number, "h", $"k{number}")], Telling = [Some.Telling(number, "t")] }).Done();
        }

        using var reader = journal.Reader();
        Assert.IsType<CursorState.Unknown>(reader.Cursor("slow"));
        journal.Advance("slow", new Position(3, 0)).Done();
        journal.Advance("fast", new Position(9, 1)).Done();
        var plan = Plan(Position.End) with { TellingBefore = Some.At(8), HistoryBefore = ImmutableDictionary<RowKind, Moment>.Empty.Add(Some.Kind, Some.At(6)) };
        Assert.Equal(12, Outcomes.Through(() => journal.Retain(plan)));

        // Told 4 to 7 and itself at (3, 1), history 4 and 5.
        Assert.Equal(new CursorState.FellBehind(new Position(3, 0), 7, 7), reader.Cursor("slow"));
        Assert.Equal(new CursorState.At(new Position(9, 1), 0), reader.Cursor("fast"));
        journal.Advance("slow", new Position(8, 0)).Done();
        Assert.Equal(new CursorState.At(new Position(8, 0), 7), reader.Cursor("slow"));
        journal.Advance("slow", new Position(2, 0)).Done();
        Assert.Equal(new CursorState.At(new Position(8, 0), 7), reader.Cursor("slow"));
        journal.Forget("slow").Done();
        Assert.IsType<CursorState.Unknown>(reader.Cursor("slow"));
    }

    [Fact]
    public void Room_goes_back_to_the_system()
    {
        using var place = new Place();
        using var journal = place.Open();
        var random = new Random(1);
        for (var number = 1; number <= 20; number++)
        {
            var noise = new byte[200_000];
            random.NextBytes(noise);
            journal.Commit(new Batch(number) { Inputs = [Some.Input(Some.Truck, number) with { Bytes = [.. noise] }] }).Done();
        }

        var plan = Plan(Position.End) with { InputsBefore = Some.At(1_000) };
        Assert.Equal(20, Outcomes.Through(() => journal.Retain(plan)));
        journal.Dispose();
        Assert.InRange(new FileInfo(place.Database).Length, 1, 500_000);
    }

    private static RetentionPlan Plan(Position slowest) => new()
    {
        InputsBefore = Never,
        TellingBefore = Never,
        Pins = new Pins { RerunFrom = new Moment(long.MaxValue), SlowestCursor = slowest },
    };
}
