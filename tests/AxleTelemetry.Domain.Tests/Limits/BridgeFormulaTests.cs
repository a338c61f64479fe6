using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Limits;

namespace AxleTelemetry.Domain.Tests.Limits;

/// <summary>The bridge formula of 23 U.S.C. 127 against the table of the Federal Highway Administration.</summary>
public sealed class BridgeFormulaTests
{
    private static LimitSet Federal => ((LimitSetResult.Parsed)LimitSetFile.Shipped(LimitSetFile.UnitedStates)).Set;

    private static BridgeFormula Formula => Federal.Rules.OfType<BridgeRule>().Single().Formula;

    /// <summary>Published: FHWA, Bridge Formula Weights, table of permissible gross loads.</summary>
    [Theory]
    [InlineData(4, 2, 34_000)]
    [InlineData(48, 5, 78_000)]
    [InlineData(51, 5, 80_000)]
    public void The_published_table_is_met(double feet, int axles, double pounds) => Assert.Equal(pounds, Formula.PoundsOf(feet, axles));

    /// <summary>Published: the same, before rounding.</summary>
    [Fact]
    public void Fifty_one_feet_and_five_axles_are_79_875_pounds_before_rounding() => Assert.Equal(79_875, Formula.Raw(51, 5));

    [Fact]
    public void Every_run_of_axles_on_the_road_has_its_margin_across_the_kingpin()
    {
        // The fifth wheel is 3.2 m behind the steer axle.
        var combination = LimitFleet.Couple(LimitFleet.Tractor("S0 D3.7"), LimitFleet.Semi("A6.5^ A7.8 A9.1"));
        var all = Bridges(combination, default);
        Assert.Equal(5 * 4 / 2, all.Count);
        var whole = all.Single(m => m.Key == MarginKey.Run(0, 4));
        // 3.2 + 9.1 m are 40.35 ft, so 40: 500 (40 x 5/4 + 60 + 36) = 73 000 lb.
        Assert.Equal(73_000 * BridgeFormula.KilogramsPerPound, whole.Limit, 6);
        Assert.Equal([1.0, 1, 1, 1, 1, 0], whole.Weights);
        Assert.Equal(4 * 3 / 2, Bridges(combination, default(Configuration).With(2, AxleState.Raised)).Count);
    }

    [Fact]
    public void A_tandem_and_a_single_axle_have_their_own_limits()
    {
        var margins = MarginTable.For(LimitFleet.Couple(LimitFleet.Rigid("S0 D5 D6.3")), default, Federal, LimitContext.Undeclared);
        Assert.Equal(34_000, margins.Limit(MarginKind.Group, 0, 1)!.Value / BridgeFormula.KilogramsPerPound, 0);
        Assert.Equal(20_000, margins.Limit(MarginKind.Axle, 0, 0)!.Value / BridgeFormula.KilogramsPerPound, 0);
        // European law is not asked where the federal table has no row.
        Assert.DoesNotContain(margins, m => m.Key.Kind == MarginKind.DrivingShare);
    }

    /// <summary>
    /// Published: FHWA, questions and answers on 23 CFR 658.17: three axles within 96 in are a tandem. Without that the formula would grant them 42 000 lb.
    /// </summary>
    [Theory]
    [InlineData("A6 A7.219 A8.438", 34_000.0)]
    [InlineData("A6 A7.25 A8.5", null)]
    public void Three_axles_within_96_inches_are_a_tandem(string axles, double? pounds)
    {
        var margins = MarginTable.For(LimitFleet.Couple(LimitFleet.Tractor("S0 D3.7"), LimitFleet.Semi(axles)), default, Federal, LimitContext.Undeclared);
        Assert.Equal(pounds, margins.Limit(MarginKind.Group, 1, 1) is { } kilograms ? Math.Round(kilograms / BridgeFormula.KilogramsPerPound) : null);
    }

    /// <summary>Weak copy of 23 CFR 658.17: 20 000 lb upon any one axle; that this includes one axle of a group is from memory.</summary>
    [Fact]
    public void One_axle_of_a_tandem_may_not_carry_more_than_any_one_axle()
    {
        var margins = MarginTable.For(LimitFleet.Couple(LimitFleet.Rigid("S0 D5 T6.3")), default, Federal, LimitContext.Undeclared);
        Assert.Equal(20_000, margins.Limit(MarginKind.Axle, 0, 1)!.Value / BridgeFormula.KilogramsPerPound, 0);
        Assert.Equal(20_000, margins.Limit(MarginKind.Axle, 0, 2)!.Value / BridgeFormula.KilogramsPerPound, 0);
    }

    private static List<Margin> Bridges(Combination combination, Configuration configuration) =>
        [.. MarginTable.For(combination, configuration, Federal, LimitContext.Undeclared).Where(m => m.Key.Kind == MarginKind.Bridge)];
}
