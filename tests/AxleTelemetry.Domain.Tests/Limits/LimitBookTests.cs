using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Places;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Limits;

namespace AxleTelemetry.Domain.Tests.Limits;

/// <summary>Which table answers where, when and for which trip.</summary>
public sealed class LimitBookTests
{
    private static readonly DateOnly Today = new(2026, 3, 2);

    private static LimitBook Shipped { get; } = Made([.. LimitSetFile.BookNames.Select(Set)]);

    /// <summary>Weak copy: International Transport Forum, Permissible maximum weights of lorries in Europe, edition of about 2013, by way of a secondary copy.</summary>
    [Theory]
    [InlineData("BE", 12_000, 10_000)]
    [InlineData("LU", 12_000, 10_000)]
    [InlineData("PT", 12_000, 10_000)]
    [InlineData("IT", 12_000, 12_000)]
    [InlineData("FR", 13_000, 13_000)]
    [InlineData("GR", 13_000, 10_000)]
    [InlineData("DE", 11_500, 10_000)]
    [InlineData("AT", 11_500, 10_000)]
    [InlineData("SI", 11_500, 10_000)]
    [InlineData("CH", 11_500, 10_000)]
    [InlineData("MD", 10_000, 10_000)]
    public void A_national_trip_has_the_axle_limits_of_its_country(string country, double drive, double single)
    {
        var margins = At(country, TripKind.National);
        Assert.Equal(drive, margins.Limit(MarginKind.Axle, 0, 1));
        Assert.Equal(single, margins.Limit(MarginKind.Axle, 0, 0));
        Assert.Equal(18_000, margins.Limit(MarginKind.Gross, 0));
        Assert.NotEqual(LimitStatus.InForce, margins.Find(MarginKind.Axle, 0, 1)!.Source.Status);
    }

    [Theory]
    [InlineData("FR", 11_500)]
    [InlineData("MD", 11_500)]
    public void An_international_trip_has_those_of_the_Directive(string country, double drive) =>
        Assert.Equal(drive, At(country, TripKind.International).Limit(MarginKind.Axle, 0, 1));

    [Theory]
    [InlineData("FR", 11_500)]
    [InlineData("MD", 10_000)]
    public void A_trip_that_nobody_declared_has_the_stricter_and_says_so(string country, double drive)
    {
        var margin = At(country, TripKind.Unknown).Find(MarginKind.Axle, 0, 1)!;
        Assert.Equal(drive, margin.Limit);
        Assert.Contains("The trip is not declared", margin.Note);
    }

    [Fact]
    public void Where_no_country_is_known_the_fall_back_holds_alone()
    {
        Assert.Equal(0, Shipped.StackAt(default, Today));
        Assert.Equal(0, Shipped.StackAt(Country.From("JP"), Today));
        Assert.True(Shipped.Stacks[0].IsSingle);
    }

    [Fact]
    public void A_newer_table_takes_the_place_of_the_older_from_its_first_day_on()
    {
        var older = Set("at-national");
        var newer = older with { Id = "at-new", From = new DateOnly(2026, 7, 1), AsOf = new DateOnly(2026, 1, 1) };
        var book = Made([Set(LimitSetFile.Directive), older, newer]);
        Assert.Equal("at-national", Top(book, new DateOnly(2026, 6, 30)));
        Assert.Equal("at-new", Top(book, new DateOnly(2026, 7, 1)));
    }

    [Fact]
    public void Everything_that_does_not_go_together_is_told_at_once()
    {
        var twice = LimitBook.Of([Set("at-national"), Set("at-national") with { Id = "at-more" }, Set("be-national") with { Id = "at-more" }]);
        var wrong = Assert.IsType<LimitBookResult.Refused>(twice).Errors;
        Assert.Equal(3, wrong.Length);
        Assert.Contains(wrong, e => e.Contains("without 'countries'", StringComparison.Ordinal));
        Assert.Contains(wrong, e => e.Contains("both for AT", StringComparison.Ordinal));
        Assert.Contains(wrong, e => e.Contains("'at-more' stands in more than one", StringComparison.Ordinal));
    }

    [Fact]
    public void Stacks_of_one_shape_have_the_same_limits_in_other_masses()
    {
        var book = Made([.. LimitSetFile.ShippedNames.Select(Set)]);
        foreach (var combination in Vehicles())
            foreach (var stack in book.Stacks)
            {
                var shape = book.Shapes().Select(i => book.Stacks[i]).First(s => s.HasKeysOf(stack));
                foreach (var trip in Enum.GetValues<TripKind>())
                    Assert.Equal(Keys(combination, shape, trip), Keys(combination, stack, trip));
            }

        Assert.InRange(book.Shapes().Count(), 2, 5);
    }

    private static IEnumerable<MarginKey> Keys(Combination combination, LimitStack stack, TripKind trip) =>
        MarginTable.For(combination, default, stack, new LimitContext { Trip = trip }).Select(m => m.Key);

    private static IEnumerable<Combination> Vehicles() =>
    [
        LimitFleet.Couple(LimitFleet.Rigid("S0 D5")),
        LimitFleet.Couple(LimitFleet.Rigid("S0 D5 T6.35^")),
        LimitFleet.Couple(LimitFleet.Tractor("S0 P2.5^ D3.7"), LimitFleet.Semi("A6.5^ A7.8 A9.1")),
        LimitFleet.Couple(LimitFleet.Rigid("S0 D5"), LimitFleet.CentreAxle("A5 A6.5")),
    ];

    private static string Top(LimitBook book, DateOnly day) => book.Stacks[book.StackAt(Country.From("AT"), day)].Top(TripKind.National).Id;

    private static ImmutableArray<Margin> At(string country, TripKind trip) => MarginTable.For(
        LimitFleet.Couple(LimitFleet.Rigid("S0 D5")), default, Shipped.Stacks[Shipped.StackAt(Country.From(country), Today)], new LimitContext { Trip = trip });

    private static LimitSet Set(string name) => ((LimitSetResult.Parsed)LimitSetFile.Shipped(name)).Set;

    private static LimitBook Made(ImmutableArray<LimitSet> sets) => Assert.IsType<LimitBookResult.Made>(LimitBook.Of(sets)).Book;
}
