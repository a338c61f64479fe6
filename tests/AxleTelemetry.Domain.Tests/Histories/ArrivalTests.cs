using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Domain.Tests.Histories;

/// <summary>The rows in force are a function of the set of what was said, not of how it arrived. Seeds stand in the names.</summary>
public sealed class ArrivalTests
{
    public static TheoryData<ulong> Seeds => [.. Enumerable.Range(1, 20).Select(i => (ulong)i)];

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
        foreach (var batch in Mixed(inputs, random))
        {
            foreach (var input in batch) mixed.Take(input);
            foreach (var unit in mixed.History.Units.ToList())
                if (random.Chance(0.5) && mixed.History.NewestOf(unit) is { } newest) mixed.Release(unit, newest.UnixMilliseconds - random.Whole(-2000, 4000));
            if (random.Chance(0.05)) mixed.Correct(random);
            if (random.Chance(0.01)) mixed.Crash();
        }

        mixed.End();
        Same(sorted, mixed, $"seed {seed}");
        Assert.True(mixed.Corrections > 0, "something came late");
        foreach (var unit in Traffic.Units)
            Assert.True(sorted.History.LaneOf(unit)!.State.SameBits(mixed.History.LaneOf(unit)!.State), $"{unit} differs with seed {seed}.");

        Again(mixed, inputs, $"seed {seed}");
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

    private static string Text(IEnumerable<string> rows) => string.Join('\n', rows.Take(5).Select(r =>
    {
        var reader = new ByteReader(Convert.FromHexString(r));
        return HistoryRowCodec.Read(ref reader)?.ToString();
    }));

    /// <summary>Split into messages, some sent twice, some hours late, and all in the order they then arrive.</summary>
    private static IEnumerable<List<Input>> Mixed(List<Input> inputs, SeededRandom random)
    {
        var messages = new List<(double Arrives, List<Input> Inputs)>();
        foreach (var own in inputs.GroupBy(i => i is Input.Read read ? read.Vehicle.Id : "facts"))
        {
            List<Input>? message = null;
            var (offlineUntil, spread) = (0L, 0.0);
            foreach (var input in own)
            {
                if (message is null || random.Chance(0.1) || input is not Input.Read)
                {
                    if (random.Chance(0.002)) offlineUntil = input.At + random.Whole(10, 7_200) * 1000L;
                    spread = random.Chance(0.0005) ? 70 * 3_600_000.0 : random.Chance(0.02) ? 20_000 : 3000;
                    message = [];
                    messages.Add((Math.Max(offlineUntil, input.At) + random.Between(0, spread), message));
                    if (random.Chance(0.02)) messages.Add((input.At + random.Between(0, 3_600_000), message));
                }

                message.Add(input);
            }
        }

        return messages.OrderBy(m => m.Arrives).Select(m => m.Inputs);
    }
}
