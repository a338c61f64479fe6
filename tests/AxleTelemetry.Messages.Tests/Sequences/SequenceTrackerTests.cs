using AxleTelemetry.Messages.Sequences;
using CsCheck;

namespace AxleTelemetry.Messages.Tests.Sequences;

public class SequenceTrackerTests
{
    [Fact]
    public void Without_gaps_nothing_is_missing()
    {
        var tracker = After(5, 6, 7, 8);
        Assert.Equal((4, 8, 0, 0, 0), (tracker.Messages, tracker.Highest, tracker.Missing, tracker.Repeated, tracker.Late));
    }

    [Fact]
    public void A_gap_is_counted_and_closes_when_its_numbers_come_late()
    {
        Assert.Equal(3, After(5, 9).Missing);
        Assert.Equal(2, After(5, 9, 7).Missing);
        Assert.Equal(0, After(5, 9, 7, 6, 8).Missing);
        Assert.Equal((0, 1), (After(5, 9, 7, 6, 8, 7).Missing, After(5, 9, 7, 6, 8, 7).Repeated));
    }

    [Fact]
    public void A_repeated_number_is_no_gap() => Assert.Equal((0, 2), (After(5, 5, 5).Missing, After(5, 5, 5).Repeated));

    [Fact]
    public void What_comes_below_the_first_or_beyond_the_window_is_late()
    {
        Assert.Equal((0, 1), (After(5, 4).Missing, After(5, 4).Late));
        Assert.Equal((199, 1), (After(5, 205, 77).Missing, After(5, 205, 77).Late));
        Assert.Equal((198, 0), (After(5, 205, 78).Missing, After(5, 205, 78).Late));
    }

    [Fact]
    public void The_greatest_gap_there_can_be_does_not_overflow() => Assert.Equal(long.MaxValue - 1, After(0, long.MaxValue).Missing);

    [Theory]
    [InlineData(500, 400, false)]
    [InlineData(500, 399, true)]
    [InlineData(500, 1, true)]
    [InlineData(50, 2, false)]
    [InlineData(50, 1, true)]
    [InlineData(50, 0, true)]
    [InlineData(1, 0, true)]
    [InlineData(1, 1, false)]
    [InlineData(0, 0, false)]
    [InlineData(0, 1, false)]
    [InlineData(50, 5000, false)]
    public void Without_a_boot_id_a_fall_by_more_than_100_or_to_0_or_1_is_a_restart(long before, long now, bool restart) =>
        Assert.Equal(restart, After(before).IsRestart(now));

    [Fact]
    public void Within_the_window_the_order_of_arrival_does_not_matter() =>
        Gen.Int[0, 100].Array[1, 60].SelectMany(numbers => Gen.Select(Gen.Const(numbers), Gen.Shuffle(numbers))).Sample((numbers, shuffled) =>
        {
            // A first message lower than all others, so that nothing lies before the first.
            var a = After([0, .. numbers.Select(n => (long)n)]);
            var b = After([0, .. shuffled.Select(n => (long)n)]);
            return a == b && a.Missing == numbers.Max() + 1 - numbers.Append(0).Distinct().Count();
        });

    private static SequenceTracker After(params long[] numbers) =>
        numbers.Aggregate(default(SequenceTracker), (tracker, number) => tracker.Take(number));
}
