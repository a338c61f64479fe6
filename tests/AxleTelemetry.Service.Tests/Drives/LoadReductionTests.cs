using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Drives;
using CsCheck;

namespace AxleTelemetry.Service.Tests.Drives;

/// <summary>What must stay true however many rows are drawn by however few points.</summary>
public sealed class LoadReductionTests
{
    private const int Axles = 3, Days = 2;
    private static readonly Moment From = new(1_772_431_200_000), To = From.Plus(Days * 86_400);
    private static readonly VehicleName Truck = new("north", "RT-01");

    private static readonly Gen<HistoryRow.Load[]> Histories =
        from count in Gen.Int[0, 300]
        from steps in Gen.Select(Gen.Frequency((20, Gen.Int[1, 400]), (1, Gen.Int[1201, 9000])), Gen.Int[0, 20_000], Gen.Frequency((15, Gen.Int[0, 0]), (1, Gen.Int[1, 3])), Gen.Frequency((30, Gen.Int[1, 1]), (1, Gen.Int[1, 3]))).Array[count]
        select Rows(steps);

    private static readonly Gen<int> Points = Gen.OneOf(Gen.Int[10, 40], Gen.Int[10, 2000]);

    [Fact]
    public void No_extreme_is_lost() => Gen.Select(Histories, Points).Sample((rows, points) =>
    {
        foreach (var stretch in Reduce(rows, points))
        {
            var own = rows.Where(r => r.Key.At >= stretch.From && r.Key.At <= stretch.To).ToList();
            Same(stretch.Points.Select(p => p.Gross), own.Select(r => r.Gross));
            for (var axle = 0; axle < Axles; axle++) Same(stretch.Points.Select(p => p.Axles[axle]), own.Select(r => r.Axles[axle]));
        }
    });

    [Fact]
    public void Every_point_holds_the_extremes_of_its_own_time() => Gen.Select(Histories, Points).Sample((rows, points) =>
    {
        foreach (var point in Reduce(rows, points).SelectMany(s => s.Points))
        {
            var own = rows.Where(r => r.Key.At >= point.From && r.Key.At <= point.To).ToList();
            Assert.Equal(own.Count, point.Rows);
            Same([point.Gross], own.Select(r => r.Gross));
        }
    });

    [Fact]
    public void Points_are_in_order_and_no_more_than_asked_for() => Gen.Select(Histories, Points).Sample((rows, points) =>
    {
        var stretches = Reduce(rows, points);
        var all = stretches.SelectMany(s => s.Points).ToList();
        Assert.Equal(rows.Length, all.Sum(p => p.Rows));
        Assert.True(all.Count <= Math.Max(points, stretches.Length), $"{all.Count} of {points}");
        Assert.All(all, p => Assert.True(p.From <= p.To));
        Assert.All(all.Zip(all.Skip(1)), pair => Assert.True(pair.First.To < pair.Second.From));
    });

    [Fact]
    public void Nothing_is_drawn_over_silence_or_a_change_of_vehicles_and_no_other_line_is_broken() => Gen.Select(Histories, Points).Sample((rows, points) =>
    {
        var begins = Reduce(rows, points).Select(s => s.From).ToHashSet();
        for (var i = 0; i < rows.Length; i++)
        {
            var breaks = i == 0 || rows[i].Key.At.SecondsSince(rows[i - 1].Key.At) > LoadReduction.SilenceSeconds || !rows[i].Members.SequenceEqual(rows[i - 1].Members);
            Assert.Equal(breaks, begins.Contains(rows[i].Key.At));
        }
    });

    [Fact]
    public void Every_change_of_configuration_stays() => Gen.Select(Histories, Points).Sample((rows, points) =>
    {
        foreach (var stretch in Reduce(rows, points))
        {
            var own = rows.Where(r => r.Key.At >= stretch.From && r.Key.At <= stretch.To).ToList();
            var changes = own.Where((r, i) => i == 0 || own[i - 1].Configuration != r.Configuration).Select(r => new ConfiguredAt(r.Key.At, r.Configuration));
            Assert.Equal(changes, stretch.Configurations);
        }
    });

    private static ImmutableArray<LoadStretch> Reduce(HistoryRow.Load[] rows, int points) => LoadReduction.Reduce(rows, From, To, points);

    private static void Same(IEnumerable<Extremes> drawn, IEnumerable<Estimated?> were)
    {
        var (shown, all) = (drawn.ToList(), were.OfType<Estimated>().ToList());
        Assert.Equal(all.Count == 0 ? null : all.Min(e => e.Mean), shown.Min(e => e.Least?.Mean));
        Assert.Equal(all.Count == 0 ? null : all.Max(e => e.Mean), shown.Max(e => e.Greatest?.Mean));
    }

    private static HistoryRow.Load[] Rows((int Gap, int Gross, int Raised, int Version)[] steps)
    {
        var rows = new List<HistoryRow.Load>();
        var at = From;
        foreach (var (gap, gross, raised, version) in steps)
        {
            at = at.Plus(gap);
            if (at > To) break;
            rows.Add(Row(at, gross, (uint)raised, version));
        }

        return [.. rows];
    }

    // A gross below two tonnes stands for figures that are withheld.
    private static HistoryRow.Load Row(Moment at, int gross, uint raised, int version) => new(new RowKey(Truck, RowKind.Load, at, default), at, [new LaneMember(Truck, version)])
    {
        Standing = LoadStanding.Settled,
        Movement = Movement.Rolling,
        Configuration = new Configuration(raised),
        Axles = [.. Enumerable.Range(0, Axles).Select(a => gross < 2000 ? (Estimated?)null : new Estimated((gross * (a + 3) * 7919) % 12_000, 150))],
        Gross = gross < 2000 ? null : new Estimated(gross, 300),
        Payloads = [],
        Withheld = [],
        Place = null,
    };
}
