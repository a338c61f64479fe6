using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Places;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Limits;

namespace AxleTelemetry.Domain.Tests.Limits;

/// <summary>A permit takes the place of the limits it names and of no others. Its masses are invented; those of the tables have their tests.</summary>
public sealed class PermitTests
{
    private static readonly Combination Semi = LimitFleet.Couple(LimitFleet.Tractor("S0 P2.5^ D3.7"), LimitFleet.Semi("A6.5^ A7.8 A9.1"));

    [Fact]
    public void The_limits_it_names_are_replaced_with_their_source_and_all_others_stay()
    {
        var before = LimitFleet.Margins(Semi);
        var after = With(Permit([Combination(60_000), Axles(13_000, "TC-1/a3")]));
        Assert.Equal(60_000, after.Limit(MarginKind.CombinationGross));
        Assert.Equal(13_000, after.Limit(MarginKind.Axle, 0, 2));
        var source = after.Find(MarginKind.CombinationGross)!.Source;
        Assert.Equal(("Permit P-1 of the road authority", "2.1", LimitStatus.Permit), (source.Title, source.Clause, source.Status));
        Assert.Contains("Instead of 40 000 kg", after.Find(MarginKind.CombinationGross)!.Note);
        MarginKey[] named = [new(MarginKind.CombinationGross, -1, -1), new(MarginKind.Axle, 0, 2)];
        Assert.Equal(before.Where(m => !named.Contains(m.Key)).Select(m => (m.Key, m.Limit)), after.Where(m => !named.Contains(m.Key)).Select(m => (m.Key, m.Limit)));
    }

    [Fact]
    public void A_group_is_named_by_its_axles_and_by_all_of_them()
    {
        var tridem = Axles(30_000, "SM-1/a1", "SM-1/a2", "SM-1/a3");
        Assert.Equal(30_000, With(Permit([tridem])).Limit(MarginKind.Group, 1, 1));
        // With one of them up the group is another, and the permit does not speak of it.
        var raised = new Configuration(1u << 3);
        Assert.Equal(LimitFleet.Margins(Semi, raised).Select(m => m.Limit), With(Permit([tridem]), raised).Select(m => m.Limit));
        Assert.Equal(LimitFleet.Margins(Semi).Limit(MarginKind.Group, 1, 1), With(Permit([Axles(30_000, "SM-1/a1", "SM-1/a2")])).Limit(MarginKind.Group, 1, 1));
    }

    [Fact]
    public void Axles_that_no_law_takes_together_are_limited_by_the_permit_alone()
    {
        var margins = With(Permit([Axles(38_000, "TC-1/a2", "TC-1/a3", "SM-1/a1")]));
        Assert.Equal(38_000, Assert.Single(margins, m => m.Key.Kind == MarginKind.Bridge).Limit);
        Assert.DoesNotContain(With(Permit([Axles(38_000, "TC-1/a1", "TC-1/a3")])), m => m.Key.Kind == MarginKind.Bridge);
    }

    [Fact]
    public void What_is_registered_yields_and_what_is_rated_does_not()
    {
        var papers = LimitFleet.Rigid("S0 D5 T6.35^") with { Registered = new RegisteredMasses { Gross = Quantities.Mass.FromKilograms(24_000) } };
        var rigid = LimitFleet.Couple(papers.WithAxles(a => a.Key == "a2" ? a with { Rating = Quantities.Mass.FromKilograms(12_000) } : a));
        var permit = new Permit
        {
            Id = "P-2", Authority = "the road authority", Vehicles = ["RG-1"], Countries = [Country.From("SE")], From = new(2026, 1, 1), Until = new(2026, 12, 31),
            Masses = [new PermittedMass.OfVehicle("RG-1") { Kilograms = 30_000 }, Axles(14_000, "RG-1/a2")],
        };
        var margins = MarginTable.For(rigid, default, LimitStack.Of(LimitFleet.Directive), LimitFleet.National, new([permit], []));
        Assert.Equal(30_000, margins.Limit(MarginKind.Gross, 0));
        Assert.Equal(14_000, margins.Limit(MarginKind.Axle, 0, 1));
        Assert.Equal(12_000, margins.Limit(MarginKind.AxleRating, 0, 1));
    }

    [Fact]
    public void A_condition_on_axles_that_is_not_met_leaves_the_law_and_says_why()
    {
        var permit = Permit([Combination(60_000)]) with { Lowered = [new("TC-1", "a2")] };
        Assert.Equal(60_000, With(permit).Limit(MarginKind.CombinationGross));
        var raised = With(permit, new Configuration(1u << 1)).Find(MarginKind.CombinationGross)!;
        Assert.Equal((40_000, LimitStatus.InForce), (raised.Limit, raised.Source.Status));
        Assert.Contains("Permit P-1 does not hold: it asks for TC-1/a2 on the road under load.", raised.Note);
    }

    [Fact]
    public void One_broken_by_speed_leaves_the_law_and_says_why()
    {
        var permit = Permit([Combination(60_000)]) with { MostSpeed = 60 / 3.6 };
        var broken = MarginTable.For(Semi, default, LimitStack.Of(LimitFleet.Directive), LimitFleet.International, new([], [permit])).Find(MarginKind.CombinationGross)!;
        Assert.Equal(40_000, broken.Limit);
        Assert.Contains("does not hold: driven faster than 60 km/h with this load", broken.Note);
    }

    [Fact]
    public void Of_two_for_one_limit_the_greater_holds_whatever_their_order()
    {
        Permit one = Permit([Combination(60_000)]), other = Permit([Combination(50_000)]) with { Id = "P-9" };
        foreach (var both in (ImmutableArray<Permit>[])[[one, other], [other, one]])
            Assert.Equal("Permit P-1 of the road authority", MarginTable.For(Semi, default, LimitStack.Of(LimitFleet.Directive), LimitFleet.International, new(both, [])).Find(MarginKind.CombinationGross)!.Source.Title);
    }

    /// <summary>Bridge formula B of the United States, 23 U.S.C. 127: a permit for the gross stands for its limit on all axles together, inner runs stay.</summary>
    [Fact]
    public void Under_a_bridge_formula_the_gross_is_named_with_the_combination()
    {
        var federal = ((LimitSetResult.Parsed)LimitSetFile.Shipped(LimitSetFile.UnitedStates)).Set;
        var before = MarginTable.For(Semi, default, LimitStack.Of(federal), LimitFleet.National);
        var after = MarginTable.For(Semi, default, LimitStack.Of(federal), LimitFleet.National, new([Permit([Combination(60_000)])], []));
        var changed = before.Zip(after).Where(m => m.First.Limit != m.Second.Limit).Select(m => m.Second.Key);
        Assert.Equal([new MarginKey(MarginKind.CombinationGross, -1, -1), MarginKey.Run(0, 5)], changed.Order());
    }

    private static ImmutableArray<Margin> With(Permit permit, Configuration configuration = default) =>
        MarginTable.For(Semi, configuration, LimitStack.Of(LimitFleet.Directive), LimitFleet.International, new([permit], []));

    private static PermittedMass Combination(double kilograms) => new PermittedMass.OfCombination { Kilograms = kilograms, Clause = "2.1" };

    private static PermittedMass Axles(double kilograms, params string[] names) =>
        new PermittedMass.OfAxles([.. names.Select(n => n.Split('/')).Select(n => new AxleName(n[0], n[1]))]) { Kilograms = kilograms };

    private static Permit Permit(ImmutableArray<PermittedMass> masses) => new()
    {
        Id = "P-1", Authority = "the road authority", Vehicles = ["TC-1"], Countries = [Country.From("SE")], From = new(2026, 1, 1), Until = new(2026, 12, 31), Masses = masses,
    };
}
