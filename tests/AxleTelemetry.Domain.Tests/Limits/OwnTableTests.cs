using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;
using static AxleTelemetry.Domain.Tests.Limits.LimitFleet;

namespace AxleTelemetry.Domain.Tests.Limits;

/// <summary>Tables that an owner writes may say other things than the shipped ones: what both say of one trip stands beside each other, or the stricter holds.</summary>
public sealed class OwnTableTests
{
    [Fact]
    public void Two_tables_that_group_from_the_same_axle_give_two_limits()
    {
        var national = Directive with { Id = "n", AppliesTo = TripScope.National, StandsAlone = true, Rules = [.. Directive.Rules.Where(r => r is not GroupRule { Axles: 3 })] };
        var margins = MarginTable.For(Couple(Tractor("S0 D3.7"), Semi("A5 A6.31 A7.62 A8.93")), default, new LimitStack([national], [Directive]), LimitContext.Undeclared);
        Assert.Equal([2, 2, 2, 3, 3], margins.Where(m => m.Key is { Kind: MarginKind.Group, Body: 1 }).Select(m => m.Weights.Count(w => w != 0)).Order());
    }

    [Theory]
    [InlineData(TripKind.Unknown, 0.25)]
    [InlineData(TripKind.National, 0.20)]
    [InlineData(TripKind.International, 0.25)]
    public void Of_two_driving_shares_the_greater_holds_where_nobody_says_which_trip_it_is(TripKind trip, double least)
    {
        var national = Directive with { Id = "n", AppliesTo = TripScope.National, Rules = [.. Directive.Rules.Select(r => r is DrivingShareRule d ? d with { Least = 0.2, Trips = TripScope.All } : r)] };
        var margins = MarginTable.For(Couple(Tractor("S0 D3.7"), Semi("A6.3 A7.61 A8.92")), default, new LimitStack([national, Directive], [Directive]), new LimitContext { Trip = trip });
        Assert.Equal((least, MarginStanding.Law), (margins.Limit(MarginKind.DrivingShare), margins.Find(MarginKind.DrivingShare)!.Standing));
    }

    [Fact]
    public void One_table_may_have_a_share_for_each_trip()
    {
        var share = Directive.Rules.OfType<DrivingShareRule>().First();
        var table = Directive with { Id = "n", Rules = [.. Directive.Rules, share with { Least = 0.3, Trips = TripScope.National }] };
        var combination = Couple(Tractor("S0 D3.7"), Semi("A6.3 A7.61 A8.92"));
        Assert.Equal(0.3, MarginTable.For(combination, default, table, National).Limit(MarginKind.DrivingShare));
        Assert.Equal(0.25, MarginTable.For(combination, default, table, International).Limit(MarginKind.DrivingShare));
    }

    /// <summary>Directive 96/53/EC, Annex I, 2.3.3: four axles with two steering axles, 32 t; with a third one steered too it is no more.</summary>
    [Fact]
    public void A_third_steered_axle_earns_nothing()
    {
        var rigid = Rigid("S0 S1.9 D5.5 T6.9");
        rigid = rigid with { Axles = rigid.Axles.SetItem(3, rigid.Axles[3] with { Steering = Steering.Steered }) };
        Assert.Equal(32_000, Margins(Couple(rigid)).Limit(MarginKind.Gross, 0));
    }
}
