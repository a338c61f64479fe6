using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Limits;
using AxleTelemetry.Places;
using AxleTelemetry.Service.Drives;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Service.Tests.Drives;

/// <summary>Room to the closest limit of several axles together: a fourth of the mass on the driving axles (Council Directive 96/53/EC, Annex I, 4.1, published).</summary>
public sealed class SpareThenTests
{
    private const double Sd = 100;

    private static readonly Moment Start = new(1_772_431_200_000);
    private static readonly Configuration TagRaised = new(Raised: 0b100);

    [Fact]
    public void A_share_that_is_too_small_is_told_with_what_is_missing()
    {
        // A fourth of 16 t is 4 t, of which the driving axle carries 3; the errors of 0.25, 0.75 and 0.25 times an axle at most add up.
        var point = Assert.Single(Over([Row(0, 7_000, 3_000, 6_000)]));
        Assert.Equal(("driving share", 1_000, 1.25 * Sd), (point.Name, Math.Round(point.Excess!.Value.Mean, 6), Math.Round(point.Excess.Value.Sd, 6)));
    }

    [Fact]
    public void A_raised_axle_carries_nothing_and_is_in_no_group()
    {
        // A fourth of 15 t is 3.75 t.
        var point = Assert.Single(Over([Row(0, 7_000, 8_000, null) with { Configuration = TagRaised }]));
        Assert.Equal(("driving share", -4_250), (point.Name, point.Excess!.Value.Mean));
    }

    [Fact]
    public void A_group_is_named_where_it_is_closest()
    {
        // No driven tandem may carry more than 19 t (3.5.3), no axle of it is passed here beyond what the group is.
        var point = Assert.Single(Over([Row(0, 7_000, 11_000, 10_900)]));
        Assert.Equal("rear group", point.Name);
        Assert.InRange(point.Excess!.Value.Mean, 21_900 - 19_000, 21_900 - 11_500);
    }

    [Fact]
    public void The_line_breaks_over_silence_and_where_a_figure_is_missing_and_keeps_the_nearest_of_each_place()
    {
        var line = Over([Row(0, 7_000, 8_000, 6_000), Row(10, 7_000, 4_000, 6_000), Row(20, 7_000, 9_000, 6_000), Row(600, 7_000, 8_000, 6_000), Row(660, null, 8_000, 6_000), Row(720, 7_000, 8_000, 6_000), Row(720 + 1_300, 7_000, 8_000, 6_000)]);
        Assert.Equal([10, 600, null, 720, null, 2_020], line.Select(p => p.Excess is null ? null : (int?)p.At.SecondsSince(Start)));
        Assert.Equal(line.Select(p => p.At).Order(), line.Select(p => p.At));
    }

    [Fact]
    public void Of_vehicles_that_are_not_known_any_more_nothing_is_told() => Assert.Empty(SpareThen.Over([Row(0, 7_000, 3_000, 6_000)], _ => null, (Start, Start.Plus(3600)), 60));

    private static ImmutableArray<SpareAt> Over(IEnumerable<HistoryRow.Load> rows)
    {
        var combination = ((CouplingResult.Coupled)Combination.Couple([RandomFleet.Scene.Vehicles[0]])).Combination;
        var book = ((LimitBookResult.Made)LimitBook.Of([.. LimitSetFile.BookNames.Select(name => ((LimitSetResult.Parsed)LimitSetFile.Shipped(name)).Set)])).Book;
        var margins = new KnownMargins(combination, LaneLaw.ByPlace(combination, book, new LimitContext { Trip = TripKind.International }, CountryMap.Shipped, []));
        return SpareThen.Over(rows, _ => margins, (Start, Start.Plus(3600)), 60);
    }

    private static HistoryRow.Load Row(double seconds, params double?[] axles) => new(new RowKey { At = Start.Plus(seconds) }, Start.Plus(seconds), [])
    {
        Standing = LoadStanding.Settled, Movement = Movement.Rolling, Configuration = default, Axles = [.. axles.Select(a => a is { } kilograms ? new Estimated(kilograms, Sd) : (Estimated?)null)],
        Gross = null, Payloads = [], Withheld = [], Place = null,
    };
}
