using System.Collections.Immutable;
using System.Text;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Recordings;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>A vehicle falls silent, and another takes its trailer: what was said until then is its history, in whatever order word of it came.</summary>
public sealed class LeftBehindTests
{
    public static TheoryData<ulong> Seeds => [.. Enumerable.Range(1, 12).Select(i => (ulong)i)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void The_silent_unit_is_stepped_to_where_its_trailer_left_it(ulong seed)
    {
        var random = new SeededRandom(seed);
        var messages = Silenced(RandomFleet.Recording(seed, 2400), random);
        var expected = Digest(messages, () => 1);
        for (var i = 0; i < 4; i++) Assert.Equal(expected, Digest(messages.Permuted(random), () => random.Whole(1, 60)));
        Assert.Equal(expected, Digest([.. messages.OrderBy(m => m.Topic.EndsWith("/coupling", StringComparison.Ordinal) ? 0 : 1)], () => 50));
    }

    /// <summary>Each unit is heard no more from some moment on; then another claims whatever trailer there is.</summary>
    private static ImmutableArray<RecordedMessage> Silenced(ImmutableArray<RecordedMessage> messages, SeededRandom random)
    {
        var (first, last) = (messages[0].Received!.Value, messages[^1].Received!.Value);
        var silent = first.Plus(random.Between(0.3, 0.8) * last.SecondsSince(first));
        var (from, to) = random.Chance(0.5) ? ("TR-04", "TP-05") : ("TP-05", "TR-04");
        var claimed = silent.Plus(random.Between(1, 200));
        var claim = new RecordedMessage($"axles/v1/north/{to}/coupling",
            Encoding.UTF8.GetBytes(FormattableString.Invariant($$"""{"samples":[{"t":{{claimed.UnixMilliseconds}},"trailers":["{{random.Pick("ST-06", "SB-07")}}"]}]}""")), claimed.Plus(1));
        return [.. messages.Where(m => !m.Topic.Contains($"/{from}/", StringComparison.Ordinal) || m.Received < silent).Append(claim).OrderBy(m => m.Received)];
    }

    private static string Digest(ImmutableArray<RecordedMessage> messages, Func<int> batch)
    {
        var end = messages.Max(m => m.Received)!.Value;
        var (run, store) = ShardRun.InMemory(end);
        for (int i = 0, length; i < messages.Length; i += length)
        {
            length = Math.Min(batch(), messages.Length - i);
            run.Append(messages[i..(i + length)].Select(m => m with { Received = end }));
        }

        run.End();
        return store.Digest();
    }
}
