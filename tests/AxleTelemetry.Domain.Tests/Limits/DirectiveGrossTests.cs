using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using static AxleTelemetry.Domain.Tests.Limits.LimitFleet;

namespace AxleTelemetry.Domain.Tests.Limits;

/// <summary>Vehicles and combinations. Source of every figure: Council Directive 96/53/EC, Annex I, sections 2 and 4. Mark: published, unless a name says otherwise.</summary>
public sealed class DirectiveGrossTests
{
    [Theory]
    [InlineData("S0 D4.5", true, true, 20_000, 18_000)]
    [InlineData("S0 D4.3 T5.65", false, true, 20_000, 25_000)]
    [InlineData("S0 D4.3 T5.65", true, false, 20_000, 25_000)]
    [InlineData("S0 D4.3 T5.65", true, true, 20_000, 26_000)]
    [InlineData("S0 D4.3 D5.65", true, false, 9_500, 26_000)]
    [InlineData("S0 D4.3 D5.65", true, false, 9_501, 25_000)]
    [InlineData("S0 S2 D5.5 D6.85", true, true, 20_000, 32_000)]
    public void Published_2_3_motor_vehicles(string axles, bool twin, bool air, double each, double kilograms)
    {
        var rigid = Rigid(axles, twin, air).WithAxles(a => a with { Registered = Mass.FromKilograms(each) });
        Assert.Equal(kilograms, Margins(Couple(rigid)).Limit(MarginKind.Gross, 0));
    }

    [Theory]
    [InlineData("S0 S1.8 D4.65 D6.0", 30_000)]
    [InlineData("S0 S1.8 D5.0 D6.399", 31_995)]
    [InlineData("S0 S1.8 D5.0 D6.4", 32_000)]
    [InlineData("S0 S1.8 D5.4 D6.8", 32_000)]
    public void Published_4_3_five_tonnes_per_metre_of_a_four_axle_motor_vehicle(string axles, double kilograms) =>
        Assert.Equal(kilograms, Margins(Couple(Rigid(axles))).Limit(MarginKind.Gross, 0)!.Value, 6);

    [Fact]
    public void Published_4_3_also_holds_where_2_3_3_gives_no_figure() =>
        Assert.Equal(30_000, Margins(Couple(Rigid("S0 D3.3 D4.65 T6.0"))).Limit(MarginKind.Gross, 0));

    [Fact]
    public void Published_2_1_trailers()
    {
        Assert.Equal(18_000, Margins(Couple(Rigid("S0 D4.5"), Drawbar("A2 A7"))).Limit(MarginKind.Gross, 1));
        Assert.Equal(18_000, Margins(Couple(Rigid("S0 D4.5"), CentreAxle("A5 A6.4"))).Limit(MarginKind.Gross, 1));
        Assert.Equal(24_000, Margins(Couple(Rigid("S0 D4.5"), Drawbar("A2 A7 A8.4"))).Limit(MarginKind.Gross, 1));
    }

    [Fact]
    public void A_semi_trailer_has_no_gross_figure_in_the_table_so_its_papers_hold()
    {
        var gross = Margins(Couple(Tractor("S0 D3.7"), Semi("A6.3 A7.61 A8.92"))).Find(MarginKind.Gross, 1)!;
        Assert.Equal(90_000, gross.Limit);
        Assert.Equal(LimitStatus.VehiclePapers, gross.Source.Status);
    }

    [Theory]
    [InlineData("S0 D4.5", "A2 A7", 36_000)]
    [InlineData("S0 D4.5", "A2 A7 A8.4", 40_000)]
    [InlineData("S0 D4.3 T5.65", "A2 A7", 40_000)]
    [InlineData("S0 D4.3 T5.65", "A2 A7 A8.4", 40_000)]
    public void Published_2_2_1_and_2_2_3_road_trains(string motor, string trailer, double kilograms) =>
        Assert.Equal(kilograms, Margins(Couple(Rigid(motor), Drawbar(trailer))).Limit(MarginKind.CombinationGross));

    [Theory]
    [InlineData("S0 D3.7", "A6.3 A7.6", true, 36_000)]
    [InlineData("S0 D3.7", "A6.3 A8.1", true, 36_000)]
    [InlineData("S0 D3.7", "A6.3 A8.101", true, 38_000)]
    [InlineData("S0 D3.7", "A6.3 A8.101", false, 36_000)]
    [InlineData("S0 D3.7", "A6.3 A7.61 A8.92", true, 40_000)]
    [InlineData("S0 D3.0 T4.35", "A6.3 A7.61", true, 40_000)]
    [InlineData("S0 D3.0 T4.35", "A6.3 A7.61 A8.92", true, 40_000)]
    public void Published_2_2_2_and_2_2_4_articulated_vehicles(string motor, string semi, bool air, double kilograms) =>
        Assert.Equal(kilograms, Margins(Couple(Tractor(motor, air: air), Semi(semi))).Limit(MarginKind.CombinationGross));

    [Theory]
    [InlineData("S0 D3.0 T4.35", "A6.3 A7.61")]
    [InlineData("S0 D3.0 T4.35", "A6.3 A7.61 A8.92")]
    public void Published_2_2_2_44_tonnes_only_when_declared_intermodal(string motor, string semi)
    {
        var coupled = Couple(Tractor(motor), Semi(semi));
        Assert.Equal(40_000, Margins(coupled).Limit(MarginKind.CombinationGross));
        Assert.Equal(44_000, Margins(coupled, context: International with { Intermodal = true }).Limit(MarginKind.CombinationGross));
    }

    [Fact]
    public void From_memory_2_2_2_42_tonnes_for_2_and_3_axles_is_marked_as_not_verified()
    {
        var coupled = Couple(Tractor("S0 D3.7"), Semi("A6.3 A7.61 A8.92"));
        var gross = Margins(coupled, context: International with { Intermodal = true }).Find(MarginKind.CombinationGross)!;
        Assert.Equal(42_000, gross.Limit);
        Assert.Equal(LimitStatus.UnverifiedEdition, gross.Source.Status);
    }

    [Theory]
    [InlineData(DriveEnergyKind.Conventional, 3_000, 18_000, 40_000)]
    [InlineData(DriveEnergyKind.AlternativeFuel, 3_000, 19_000, 41_000)]
    [InlineData(DriveEnergyKind.AlternativeFuel, 600, 18_600, 40_600)]
    [InlineData(DriveEnergyKind.ZeroEmission, 3_000, 20_000, 42_000)]
    [InlineData(DriveEnergyKind.ZeroEmission, 0, 18_000, 40_000)]
    public void Published_2_2_and_2_3_extra_mass_for_the_drive(DriveEnergyKind kind, double extra, double gross, double combination)
    {
        var tractor = Tractor("S0 D3.7") with { Energy = new DriveEnergy { Kind = kind, ExtraMass = Mass.FromKilograms(extra) } };
        var margins = Margins(Couple(tractor, Semi("A6.3 A7.61 A8.92")));
        Assert.Equal(gross, margins.Limit(MarginKind.Gross, 0));
        Assert.Equal(combination, margins.Limit(MarginKind.CombinationGross));
    }

    [Fact]
    public void Published_4_1_ten_of_forty_tonnes_pass_and_nine_point_nine_fail()
    {
        var share = Margins(Couple(Tractor("S0 D3.7"), Semi("A6.3 A7.61 A8.92"))).Find(MarginKind.DrivingShare)!;
        Assert.Equal(0.25, share.Limit);
        Assert.False(share.Over(6_000, 10_000, 8_000, 8_000, 8_000, 12_000) > 0);
        Assert.True(share.Over(6_100, 9_900, 8_000, 8_000, 8_000, 12_000) > 0);
        Assert.Equal(MarginStanding.Law, share.Standing);
    }

    [Fact]
    public void Published_4_1_is_law_in_international_traffic_only()
    {
        var coupled = Couple(Tractor("S0 D3.7"), Semi("A6.3 A7.61 A8.92"));
        Assert.Equal(MarginStanding.HouseRule, Margins(coupled, context: National).Find(MarginKind.DrivingShare)!.Standing);
        var undeclared = Margins(coupled, context: LimitContext.Undeclared).Find(MarginKind.DrivingShare)!;
        Assert.Equal(MarginStanding.Law, undeclared.Standing);
        Assert.Contains("not declared", undeclared.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void A_raised_axle_does_not_count_for_gross_or_combination_and_the_margin_says_so()
    {
        var rigid = Margins(Couple(Rigid("S0 D4.3 T5.65^")), new Configuration(Raised: 0b100)).Find(MarginKind.Gross, 0)!;
        Assert.Equal(18_000, rigid.Limit);
        Assert.Contains("Counted with the 2 axles on the road", rigid.Note, StringComparison.Ordinal);

        var coupled = Couple(Tractor("S0 D3.7"), Semi("A6.3^ A7.61^ A8.92"));
        Assert.Equal(36_000, Margins(coupled, new Configuration(Raised: 0b00100)).Limit(MarginKind.CombinationGross));
        Assert.Equal(38_000, Margins(coupled, new Configuration(Raised: 0b01000)).Limit(MarginKind.CombinationGross));
    }

    [Fact]
    public void Too_few_axles_for_any_row_take_the_lowest_row_for_more()
    {
        var coupled = Couple(Tractor("S0 D3.7"), Semi("A6.3^ A7.61^ A8.92"));
        var gross = Margins(coupled, new Configuration(Raised: 0b01100)).Find(MarginKind.CombinationGross)!;
        Assert.Equal(36_000, gross.Limit);
        Assert.Contains("no row for these axles", gross.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void What_nothing_limits_is_said()
    {
        var two = Couple(Rigid("S0 D4.5"), Drawbar("A2 A7") with { RearCoupling = new Coupling { Position = Length.FromMetres(9) } }, Drawbar("A2 A7"));
        Assert.Null(Margins(two).Limit(MarginKind.CombinationGross));
        Assert.Contains("no row for this combination", Assert.Single(MarginTable.Unlimited(two, default, Directive, International)), StringComparison.Ordinal);
    }
}
