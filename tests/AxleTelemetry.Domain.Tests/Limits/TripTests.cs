using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using static AxleTelemetry.Domain.Tests.Limits.LimitFleet;

namespace AxleTelemetry.Domain.Tests.Limits;

/// <summary>A made-up table, to see how trips choose among its rules; its figures are nobody's law.</summary>
public sealed class TripTests
{
    private static readonly LimitSet Table = new()
    {
        Id = "made-up",
        Title = "Made-up table",
        AsOf = new DateOnly(2024, 1, 1),
        Source = "nowhere",
        Status = LimitStatus.UnverifiedEdition,
        Rules =
        [
            Driving(11_500, TripScope.All),
            Driving(13_000, TripScope.National),
        ],
    };

    [Theory]
    [InlineData(TripKind.National, 13_000)]
    [InlineData(TripKind.International, 11_500)]
    [InlineData(TripKind.Unknown, 11_500)]
    public void An_undeclared_trip_takes_the_stricter_figure(TripKind trip, double kilograms) =>
        Assert.Equal(kilograms, Drive(trip).Limit);

    [Fact]
    public void It_says_what_was_assumed_only_where_that_mattered()
    {
        Assert.Contains("not declared", Drive(TripKind.Unknown).Note, StringComparison.Ordinal);
        Assert.DoesNotContain("not declared", Drive(TripKind.National).Note, StringComparison.Ordinal);
        Assert.DoesNotContain("not declared", Margins(Couple(Rigid("S0 D4.5")), context: LimitContext.Undeclared).Find(MarginKind.Axle, 0, 1)!.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void A_table_made_for_other_trips_says_so()
    {
        Assert.Contains("made for national traffic", Drive(TripKind.International).Note, StringComparison.Ordinal);
        Assert.Equal("", Drive(TripKind.National).Note);
    }

    [Fact]
    public void An_edition_that_nobody_verified_is_shown_as_such() =>
        Assert.Contains("not verified", LimitText.Source(Drive(TripKind.National)), StringComparison.Ordinal);

    private static Margin Drive(TripKind trip) =>
        MarginTable.For(Couple(Rigid("S0 D4.5")), default, Table, new LimitContext { Trip = trip }).Find(MarginKind.Axle, 0, 1)!;

    private static AxleRule Driving(double kilograms, TripScope trips) =>
        new() { Clause = "1", Driving = true, Trips = trips, Effect = new RuleEffect.Permit(Mass.FromKilograms(kilograms)) };
}
