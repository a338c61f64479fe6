using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Messages.Running;

namespace AxleTelemetry.Domain.Tests.Running;

public sealed class LiftableAxlePaysTests
{
    private static readonly Assumptions Certain = AssumptionTerm.All.Aggregate(AssumptionsFile.Shipped, (all, t) => all.With(t.Assumption, all[t.Assumption] with { Sd = 0 }));

    /// <summary>1 km: 1.2 MJ of tyres at 25 t, 30 kJ and one hub saved.</summary>
    private static readonly LiftCase Case = new()
    {
        Driven = new RoadWork(1_000, 1.2e6, 5_000, 0, 0.3),
        Saved = new RoadWork(1_000, 30_000, 1_000, 0, 0.02),
        Gross = Mass.FromKilograms(25_000),
        KilometresPerYear = 100_000,
    };

    /// <summary>
    /// By hand. Its mass: 1.2 MJ x 0.9 x 80 / 25 000 = 3 456 J/km. Saved: 30 000 + 40 000 - 3 456 = 66 544 J/km = 0.0046827 l/km at 35.5264 MJ/l and 40 %,
    /// 0.0070241 EUR/km; tread 0.02 x 0.0029 x 41.875 = 0.0024288 EUR/km. A year 945.29. Fixed: 1 500 x 0.05 / (1 - 1.05^-10) = 194.26, and 60.
    /// </summary>
    [Fact]
    public void The_answer_is_as_by_hand()
    {
        var (all, _) = LiftableAxlePays.Answer(Case, Certain);
        Assert.Equal(945.29, all.SavedPerYear.Mean, 0.05);
        Assert.Equal(254.26, all.FixedPerYear.Mean, 0.01);
        Assert.Equal(691.03, all.NetPerYear.Mean, 0.06);
        Assert.Equal(100_000 * 254.26 / 945.29, Assert.IsType<BreakEven.From>(all.BreakEven).Kilometres, 5.0);
        Assert.Equal(1, all.Probability);
    }

    [Fact]
    public void Without_spread_the_interval_is_the_point()
    {
        var even = Assert.IsType<BreakEven.From>(LiftableAxlePays.Answer(Case, Certain).All.BreakEven);
        Assert.Equal(even.Kilometres, even.Least, 0.1);
        Assert.Equal(even.Kilometres, even.Most!.Value, 0.1);
    }

    /// <summary>At either end of the interval the year's net lies 1.96 standard deviations from zero.</summary>
    [Fact]
    public void The_interval_ends_where_the_net_is_just_sure()
    {
        var careful = AssumptionsFile.Shipped.With(Assumption.HubDrag, 40, 5);
        var even = Assert.IsType<BreakEven.From>(LiftableAxlePays.Answer(Case, careful).All.BreakEven);
        Assert.InRange(even.Kilometres, even.Least, even.Most!.Value);
        Assert.Equal(0.975, At(even.Most.Value, careful), 1e-6);
        Assert.Equal(0.025, At(even.Least, careful), 1e-6);
    }

    [Fact]
    public void Where_hubs_decide_both_answers_are_given()
    {
        var small = Case with { Saved = new RoadWork(1_000, 2_000, 1_000, 0, 0) };
        var (all, withoutHubs) = LiftableAxlePays.Answer(small, AssumptionsFile.Shipped);
        Assert.IsType<BreakEven.From>(all.BreakEven);
        Assert.IsType<BreakEven.Never>(withoutHubs.BreakEven);
    }

    [Fact]
    public void A_saving_that_may_be_none_has_no_upper_break_even()
    {
        var unsure = Case with { SavedTyreJoules = [-1_000_000, 1_030_000] };
        Assert.Null(Assert.IsType<BreakEven.From>(LiftableAxlePays.Answer(unsure, AssumptionsFile.Shipped).All.BreakEven).Most);
    }

    [Fact]
    public void Payload_lost_costs_only_where_the_owner_values_it()
    {
        var valued = Certain.With(Assumption.PayloadLost, 2, 0);
        Assert.Equal(160, LiftableAxlePays.Answer(Case, valued).All.FixedPerYear.Mean - LiftableAxlePays.Answer(Case, Certain).All.FixedPerYear.Mean, 9);
    }

    [Fact]
    public void Without_interest_a_price_is_spread_evenly() => Assert.Equal(150, LiftableAxlePays.Annuity(1_500, 0, 10), 9);

    [Fact]
    public void Without_a_road_there_is_no_answer() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => LiftableAxlePays.Answer(Case with { Driven = default }, Certain));

    [Fact]
    public void Saved_and_driven_are_of_one_road() =>
        Assert.Throws<ArgumentException>(() => LiftableAxlePays.Answer(Case with { Saved = Case.Saved with { Metres = 2_000 } }, Certain));

    private static double At(double kilometres, Assumptions assumptions) =>
        LiftableAxlePays.Answer(Case with { KilometresPerYear = kilometres }, assumptions).All.Probability;
}
