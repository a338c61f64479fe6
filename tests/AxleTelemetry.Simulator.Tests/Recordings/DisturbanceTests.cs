using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Recordings;
using CsCheck;

namespace AxleTelemetry.Simulator.Tests.Recordings;

/// <summary>Whatever happens on the way, the same is said; and it happens.</summary>
public sealed class DisturbanceTests
{
    private const int Rounds = 6;

    private static readonly RecordingScene Short = Recorded.Scene with { Seconds = 1500 };

    private static readonly ImmutableArray<ImmutableArray<RecordedMessage>> Plain = [.. Enumerable.Range(11, 4).Select(seed => RandomRecording.Draw((ulong)seed, Short))];

    private static readonly ImmutableArray<HashSet<string>> Said = [.. Plain.Select(Recorded.Said)];

    private static readonly Gen<(int Recording, ulong Seed)> Cases = Gen.Select(Gen.Int[0, Plain.Length - 1], Gen.ULong);

    public static TheoryData<string> Names => [.. All.Keys];

    private static Dictionary<string, Func<ImmutableArray<RecordedMessage>, SeededRandom, ImmutableArray<RecordedMessage>>> All { get; } = new()
    {
        ["permuted"] = (m, random) => m.Permuted(random),
        ["jostled"] = (m, random) => m.Jostled(random.Between(0, 120), random),
        ["repeated"] = (m, random) => m.Repeated(0.3, random),
        ["repeated otherwise"] = (m, random) => m.RepeatedOtherwise(0.3, random),
        ["rebatched"] = (m, random) => m.Rebatched(random),
        ["delayed, oldest first"] = (m, random) => m.Delayed(Vehicle(random), Outage(random), StoredFirst.Oldest),
        ["delayed, newest first"] = (m, random) => m.Delayed(Vehicle(random), Outage(random), StoredFirst.Newest),
        ["all of it"] = (m, random) => m.Rebatched(random).Repeated(0.2, random).RepeatedOtherwise(0.2, random)
            .Delayed(Vehicle(random), Outage(random), StoredFirst.Newest).Jostled(20, random).Permuted(random),
    };

    [Theory]
    [MemberData(nameof(Names))]
    public void The_same_is_said_and_nothing_before_its_time(string name) => Cases.Sample(
        c =>
        {
            var disturbed = All[name](Plain[c.Recording], new SeededRandom(c.Seed));
            Assert.NotEqual(Shape(Plain[c.Recording]), Shape(disturbed));
            Assert.Equal(disturbed.Select(m => m.Received).Order(), disturbed.Select(m => m.Received));
            var said = Recorded.Said(disturbed);
            Assert.Empty(Said[c.Recording].Except(said).Take(5));
            Assert.Empty(said.Except(Said[c.Recording]).Take(5));
        },
        iter: Rounds, threads: 1);

    [Fact]
    public void Rebatching_splits_and_merges()
    {
        var lengths = Recorded.Decoded(Plain[0].Rebatched(new SeededRandom(5))).Select(d => d.Message.Samples).ToList();
        Assert.Contains(lengths, l => l == 1);
        Assert.Contains(lengths, l => l > 50);
    }

    [Fact]
    public void During_an_outage_nothing_comes_and_after_it_everything_in_the_order_stored()
    {
        var outage = (From: Short.Start.Plus(300), Until: Short.Start.Plus(900));
        var oldest = Forwarded(StoredFirst.Oldest);
        Assert.True(oldest.Count > 10);
        Assert.Equal(oldest.AsEnumerable().Reverse(), Forwarded(StoredFirst.Newest));

        List<string> Forwarded(StoredFirst first)
        {
            var mine = Plain[0].Delayed("RT-01", outage, first).Where(m => m.Topic.Contains("/RT-01/", StringComparison.Ordinal)).ToList();
            Assert.DoesNotContain(mine, m => m.Received >= outage.From && m.Received < outage.Until);
            var held = Plain[0].Where(m => m.Topic.Contains("/RT-01/", StringComparison.Ordinal) && m.Received >= outage.From && m.Received < outage.Until)
                .Select(m => Convert.ToBase64String(m.Payload.Span)).ToHashSet();
            return [.. mine.Select(m => Convert.ToBase64String(m.Payload.Span)).Where(held.Contains)];
        }
    }

    private static string Vehicle(SeededRandom random) => random.Pick("RT-01", "RP-02", "TR-04", "TP-05");

    private static (Moment From, Moment Until) Outage(SeededRandom random)
    {
        var from = Short.Start.Plus(random.Between(0, 600));
        return (from, from.Plus(random.Between(300, 3000)));
    }

    private static string Shape(ImmutableArray<RecordedMessage> messages) => string.Join(' ', messages.Select(m => $"{m.Topic} {m.Received} {m.Payload.Length}"));
}
