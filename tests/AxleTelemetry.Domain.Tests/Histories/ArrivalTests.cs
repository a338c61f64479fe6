using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Domain.Tests.Histories;

/// <summary>The rows in force are a function of the set of what was said, not of how it arrived. Seeds stand in the names.</summary>
public sealed class ArrivalTests
{
    public static TheoryData<ulong> Seeds => [.. Enumerable.Range(1, 32).Select(i => (ulong)i)];

    [Theory, MemberData(nameof(Seeds))]
    public void However_it_arrives_the_rows_are_those_of_the_sorted_order(ulong seed)
    {
        var inputs = Traffic.Draw(seed);
        var sorted = Delivery.Begin(Traffic.Settings);
        foreach (var input in inputs) sorted.Take(input);
        sorted.End();

        var random = new SeededRandom(1000 + seed);
        var settings = Traffic.Settings with { SnapshotEvery = random.Between(20, 1200), Remember = random.Between(0, 60) };
        var mixed = Delivery.Begin(settings);
        var late = (Late)(seed % 4);
        foreach (var batch in Mixed(inputs, late, random))
        {
            foreach (var input in batch) mixed.Take(input);
            foreach (var unit in mixed.History.Units.ToList())
                if (random.Chance(0.5) && mixed.History.NewestOf(unit) is { } newest) mixed.Release(unit, newest.UnixMilliseconds - 1000 * random.Whole(late == Late.Anything ? -2 : 4, 6));
            if (random.Chance(0.05)) mixed.Correct(random);
            if (random.Chance(0.01)) mixed.Restart(killed: random.Chance(0.5));
        }

        mixed.End();
        Same(sorted, mixed, $"seed {seed}");
        Assert.True(late == Late.Facts || mixed.Corrections > 0, "something came late");
        foreach (var unit in Traffic.Units)
            Assert.True(sorted.History.LaneOf(unit)!.State.SameBits(mixed.History.LaneOf(unit)!.State), $"{unit} differs with seed {seed}.");

        Again(mixed, inputs, $"seed {seed}");
    }

    [Fact]
    public void Trailers_in_it_come_to_another_tractor_with_what_is_known_to_be_aboard()
    {
        var taken = Enumerable.Range(1, 8).Count(seed =>
        {
            var delivery = Delivery.Begin(Traffic.Settings);
            foreach (var input in Traffic.Draw((ulong)seed)) delivery.Take(input);
            delivery.End();
            var rows = delivery.Archive.Rows.Select(r => Row(r.Bytes.Span)).ToList();
            return rows.OfType<HistoryRow.Parted>().Any(p => rows.OfType<HistoryRow.Load>().Any(l => l.Key.Unit != p.Key.Unit && l.Key.At >= p.Key.At
                && l.Standing == LoadStanding.Earlier && p.Trailers.Any(t => l.Members.Contains(t.Trailer))));
        });
        Assert.InRange(taken, 4, 8);
    }

    /// <summary>What comes once more changes nothing, and asks for no second run.</summary>
    private static void Again(Delivery delivery, List<Input> inputs, string seed)
    {
        var before = delivery.Rows();
        foreach (var input in inputs) delivery.Take(input);
        Assert.Empty(delivery.History.ToBeCorrected);
        delivery.End();
        Assert.True(before.SequenceEqual(delivery.Rows()), seed);
    }

    private static void Same(Delivery expected, Delivery actual, string seed)
    {
        var (a, b) = (expected.Rows(), actual.Rows());
        Assert.True(a.Count > 50, "there is a history");
        if (a.SequenceEqual(b)) return;
        Assert.Fail($"{seed}: {a.Count} rows in order, {b.Count} mixed; missing:\n{Text(a.Except(b))}\ntoo many:\n{Text(b.Except(a))}");
    }

    private static string Text(IEnumerable<string> rows) => string.Join('\n', rows.Take(5).Select(r => Row(Convert.FromHexString(r)).ToString()));

    private static HistoryRow Row(ReadOnlySpan<byte> bytes)
    {
        var reader = new ByteReader(bytes);
        return HistoryRowCodec.Read(ref reader)!;
    }

    /// <summary>Split into messages, some sent twice, some hours late, and all in the order they then arrive.</summary>
    private static IEnumerable<List<Input>> Mixed(List<Input> inputs, Late late, SeededRandom random)
    {
        var messages = new List<(double Arrives, List<Input> Inputs)>();
        foreach (var own in inputs.GroupBy(i => i is Input.Read read ? read.Vehicle.Id : "facts"))
        {
            List<Input>? message = null;
            var (began, offlineUntil) = (0L, 0L);
            foreach (var input in own)
            {
                var alone = input is not Input.Read { Reading.Kind: not ReadingKind.Lift };
                if (message is null || alone || random.Chance(0.1) || input.At > began + 1000)
                {
                    if (late == Late.Anything && random.Chance(0.002)) offlineUntil = input.At + random.Whole(10, 7_200) * 1000L;
                    began = input.At;
                    var sent = new List<Input>();
                    messages.Add((Math.Max(offlineUntil, input.At + 1000) + Delay(late, input, random), sent));
                    if (random.Chance(0.02)) messages.Add((messages[^1].Arrives + random.Between(0, 3_600_000), sent));
                    // What goes alone is not joined by what comes after it.
                    message = alone ? null : sent;
                    sent.Add(input);
                }
                else
                {
                    message.Add(input);
                }
            }
        }

        return messages.OrderBy(m => m.Arrives).Select(m => m.Inputs);
    }

    private static double Delay(Late late, Input input, SeededRandom random) => random.Between(0, late switch
    {
        Late.Anything => random.Chance(0.0005) ? 70 * 3_600_000.0 : random.Chance(0.02) ? 20_000 : 2000,
        Late.Facts => input is Input.Read ? 2000 : 3_600_000,
        Late.Lifts => input is Input.Read { Reading.Kind: ReadingKind.Lift } ? 3_600_000 : 2000,
        Late.AFew => random.Chance(0.0005) ? 1_200_000 : 2000,
        _ => throw new ArgumentOutOfRangeException(nameof(late)),
    });

    /// <summary>What comes late. Where everything does, one second run hides what another should have done.</summary>
    private enum Late
    {
        Anything,
        Facts,
        Lifts,
        AFew,
    }
}
