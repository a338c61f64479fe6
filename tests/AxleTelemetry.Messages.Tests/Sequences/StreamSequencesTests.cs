using System.Text;
using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Messages.Sequences;

namespace AxleTelemetry.Messages.Tests.Sequences;

public class StreamSequencesTests
{
    [Fact]
    public void Gaps_are_counted_per_boot()
    {
        var streams = After(("a", 1), ("a", 3), ("b", 1), ("b", 4));
        Assert.Equal((3, 1), (streams.Missing, streams.Restarts));
        Assert.Equal([1L, 2L], streams.Boots.Select(boot => boot.Tracker.Missing));
    }

    [Fact]
    public void With_a_boot_id_a_fall_is_no_restart() => Assert.Equal(0, After(("a", 500), ("a", 1)).Restarts);

    [Fact]
    public void What_an_earlier_boot_sends_late_closes_its_own_gap()
    {
        var streams = After(("a", 1), ("a", 3), ("b", 1), ("a", 2), ("b", 2));
        Assert.Equal((0, 1), (streams.Missing, streams.Restarts));
    }

    [Fact]
    public void Without_a_boot_id_the_fall_of_the_number_tells()
    {
        var streams = After((null, 500), (null, 502), (null, 501), (null, 0), (null, 2));
        Assert.Equal((1, 1), (streams.Missing, streams.Restarts));
    }

    [Fact]
    public void Of_old_boots_the_sums_are_kept()
    {
        var streams = StreamSequences.Empty;
        for (var boot = 0; boot < 10; boot++)
        {
            foreach (var number in new[] { 1L, 3, 3 }) streams = streams.Take(number, BootId.From(Encoding.ASCII.GetBytes($"{boot}")));
        }

        Assert.Equal(StreamSequences.BootLimit, streams.Boots.Length);
        Assert.Equal((10, 10, 9), (streams.Missing, streams.Repeated, streams.Restarts));
    }

    private static StreamSequences After(params (string? Boot, long Number)[] messages) => messages.Aggregate(
        StreamSequences.Empty,
        (streams, message) => streams.Take(message.Number, message.Boot is { } boot ? BootId.From(Encoding.ASCII.GetBytes(boot)) : null));
}
