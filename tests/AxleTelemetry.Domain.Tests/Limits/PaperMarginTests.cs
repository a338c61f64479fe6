using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using static AxleTelemetry.Domain.Tests.Limits.LimitFleet;

namespace AxleTelemetry.Domain.Tests.Limits;

public sealed class PaperMarginTests
{
    private static readonly Mass T16 = Mass.FromKilograms(16_000);

    [Fact]
    public void The_stricter_of_law_and_papers_binds_with_its_own_source_and_names_the_other()
    {
        var registered = new RegisteredMasses { Gross = T16, RearGroup = Mass.FromKilograms(10_500), Combination = Mass.FromKilograms(44_000) };
        var margins = Margins(Couple(Rigid("S0 D4.5") with { Registered = registered }, Drawbar("A2 A7 A8.4")));

        var gross = margins.Find(MarginKind.Gross, 0)!;
        Assert.Equal(16_000, gross.Limit);
        Assert.Equal("Papers of RG-1", gross.Source.Title);
        Assert.Equal(MarginStanding.Law, gross.Standing);
        Assert.Contains("Also limited: 18 000 kg (Council Directive 96/53/EC, Annex I, 2.3.1)", gross.Note, StringComparison.Ordinal);

        var combination = margins.Find(MarginKind.CombinationGross)!;
        Assert.Equal(40_000, combination.Limit);
        Assert.Equal("Council Directive 96/53/EC", combination.Source.Title);
        Assert.Equal(10_500, margins.Limit(MarginKind.Group, 0, 1));
    }

    [Fact]
    public void Where_both_say_the_same_the_law_is_named()
    {
        var rigid = Rigid("S0 D4.5") with { Registered = new RegisteredMasses { Gross = Mass.FromKilograms(18_000) } };
        Assert.Equal("Annex I, 2.3.1", Margins(Couple(rigid)).Find(MarginKind.Gross, 0)!.Source.Clause);
    }

    [Fact]
    public void A_registered_axle_mass_binds_also_within_a_group()
    {
        var rigid = Rigid("S0 D4.3 T5.65").WithAxles(a => a.Role == AxleRole.Tag ? a with { Registered = Mass.FromKilograms(7_500) } : a);
        Assert.Equal(7_500, Margins(Couple(rigid)).Limit(MarginKind.Axle, 0, 2));
    }

    [Theory]
    [InlineData(9_000, 8_000, MarginKind.TyreRating, 8_000)]
    [InlineData(8_000, 9_000, MarginKind.AxleRating, 8_000)]
    [InlineData(8_000, 8_000, MarginKind.AxleRating, 8_000)]
    public void The_weaker_of_axle_rating_and_tyres_is_the_technical_limit(double rating, double tyres, MarginKind kind, double limit)
    {
        var rigid = Rigid("S0 D4.5").WithAxles(a => a with { Rating = Mass.FromKilograms(rating), Tyres = a.Tyres with { Capacity = Mass.FromKilograms(tyres) } });
        var margin = Assert.Single(Margins(Couple(rigid)), m => m.Key.Element == 1 && m.Key.Kind is (MarginKind.AxleRating or MarginKind.TyreRating));
        Assert.Equal((kind, limit, MarginStanding.Technical), (margin.Key.Kind, margin.Limit, margin.Standing));
    }

    [Fact]
    public void A_relieved_axle_in_a_registered_group_still_counts_in_it()
    {
        var rigid = Rigid("S0 D4.3 T5.65^") with { Registered = new RegisteredMasses { Gross = T16, RearGroup = Mass.FromKilograms(17_000) } };
        var margins = Margins(Couple(rigid), new Configuration(0, Unloaded: 0b100));
        Assert.Equal([0, 1, 1], margins.Find(MarginKind.Group, 0, 1)!.Weights);
        Assert.Equal(11_500, margins.Limit(MarginKind.Axle, 0, 1));
    }

    [Fact]
    public void Couplings_have_a_least_and_a_most_where_they_carry()
    {
        var range = new Coupling { Position = default, Least = Mass.FromKilograms(300), Most = Mass.FromKilograms(1_000) };
        var margins = Margins(Couple(Rigid("S0 D4.5"), CentreAxle("A5 A6.4") with { FrontCoupling = range }));
        Assert.Equal(50, margins.Find(MarginKind.CouplingLeast, 1, 0)!.Over(0, 0, 0, 0, 250));
        Assert.Equal(200, margins.Find(MarginKind.CouplingMost, 1, 0)!.Over(0, 0, 0, 0, 1_200));
        Assert.Null(Margins(Couple(Rigid("S0 D4.5"), Drawbar("A2 A7") with { FrontCoupling = range })).Find(MarginKind.CouplingLeast, 1, 0));
    }

    [Fact]
    public void Published_2021_535_a_fifth_of_18_000_kg_is_3_600_kg_and_stands_as_house_rule()
    {
        // Source: Implementing Regulation (EU) 2021/535, Annex XIII. Mark: published.
        var share = Margins(Couple(Rigid("S0 D4.5"))).Find(MarginKind.SteeringShare, 0)!;
        Assert.Equal(0, share.Over(3_600, 14_400), 9);
        Assert.True(share.Over(3_599, 14_401) > 0);
        Assert.Equal(MarginStanding.HouseRule, share.Standing);
    }

    [Fact]
    public void Gross_of_each_vehicle_counts_the_kingpin_load_in_both_and_the_combination_counts_it_once()
    {
        var coupled = Couple(Tractor("S0 D3.7"), Semi("A6.3 A7.61 A8.92"));
        var margins = Margins(coupled);
        double[] rows = [6_000, 10_000, 7_000, 7_000, 7_000, 11_000];
        Assert.Equal(16_000, margins.Find(MarginKind.Gross, 0)!.Over(rows) + 18_000);
        Assert.Equal(32_000, margins.Find(MarginKind.Gross, 1)!.Over(rows) + 90_000);
        Assert.Equal(37_000, margins.Find(MarginKind.CombinationGross)!.Over(rows) + 40_000);
    }

    [Fact]
    public void Gross_of_a_semi_trailer_is_its_mass_whatever_is_lifted()
    {
        var coupled = Couple(Tractor("S0 D3.7"), Semi("A6.3^ A7.61 A8.92^"));
        var model = new LoadModel(coupled);
        double[] payload = [18_000, 18_000 * 5.2];
        foreach (var map in model.LiftConfigurations())
        {
            double[] rows = [.. Enumerable.Range(0, coupled.Rows).Select(r => map.Load(r, payload))];
            var gross = Margins(coupled, map.Configuration).Find(MarginKind.Gross, 1)!;
            Assert.Equal(18_000 + 3 * 2_500 + 1_000, gross.Over(rows) + gross.Limit, 6);
        }
    }
}
