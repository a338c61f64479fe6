using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;
using static AxleTelemetry.Domain.Tests.Limits.LimitFleet;

namespace AxleTelemetry.Domain.Tests.Limits;

/// <summary>Axles and groups. Source of every figure: Council Directive 96/53/EC, Annex I, points 3.1 to 3.5. Mark: published.</summary>
public sealed class DirectiveAxleTests
{
    [Fact]
    public void Published_3_1_and_3_4_single_axles()
    {
        var margins = Margins(Couple(Rigid("S0 D4.5")));
        Assert.Equal(10_000, margins.Limit(MarginKind.Axle, 0, 0));
        Assert.Equal(11_500, margins.Limit(MarginKind.Axle, 0, 1));
        Assert.Equal("Annex I, 3.1", margins.Find(MarginKind.Axle, 0, 0)!.Source.Clause);
        Assert.Equal(LimitStatus.InForce, margins.Find(MarginKind.Axle, 0, 1)!.Source.Status);
    }

    [Theory]
    [InlineData("A6.3 A7.299", 11_000, "3.2.1")]
    [InlineData("A6.3 A7.3", 16_000, "3.2.2")]
    [InlineData("A6.3 A7.599", 16_000, "3.2.2")]
    [InlineData("A6.3 A7.6", 18_000, "3.2.3")]
    [InlineData("A6.3 A8.099", 18_000, "3.2.3")]
    [InlineData("A6.3 A8.1", 20_000, "3.2.4")]
    public void Published_3_2_tandem_of_trailer(string axles, double kilograms, string clause)
    {
        var group = Margins(Couple(Tractor("S0 D3.7"), Semi(axles))).Find(MarginKind.Group, 1, 1)!;
        Assert.Equal(kilograms, group.Limit);
        Assert.Equal("Annex I, " + clause, group.Source.Clause);
        // The same rows hold for a trailer that is no semi-trailer.
        Assert.Equal(kilograms, Margins(Couple(Rigid("S0 D4.5"), CentreAxle(axles))).Limit(MarginKind.Group, 1, 1));
    }

    [Theory]
    [InlineData("A6.3 A7.6 A8.9", 21_000, "3.3.1")]
    [InlineData("A6.3 A7.601 A8.902", 24_000, "3.3.2")]
    [InlineData("A6.3 A7.7 A9.1", 24_000, "3.3.2")]
    public void Published_3_3_tridem_of_trailer_up_to_and_including_1_3(string axles, double kilograms, string clause)
    {
        var group = Margins(Couple(Tractor("S0 D3.7"), Semi(axles))).Find(MarginKind.Group, 1, 1)!;
        Assert.Equal(kilograms, group.Limit);
        Assert.Equal("Annex I, " + clause, group.Source.Clause);
    }

    [Theory]
    [InlineData("S0 D4.3 T5.299", 11_500, "3.5.1")]
    [InlineData("S0 D4.3 T5.3", 16_000, "3.5.2")]
    [InlineData("S0 D4.3 T5.599", 16_000, "3.5.2")]
    [InlineData("S0 D4.3 T5.6", 18_000, "3.5.3")]
    [InlineData("S0 D4.3 T6.099", 18_000, "3.5.3")]
    public void Published_3_5_tandem_of_motor_vehicle_on_single_tyres(string axles, double kilograms, string clause)
    {
        var group = Margins(Couple(Rigid(axles, twin: false))).Find(MarginKind.Group, 0, 1)!;
        Assert.Equal(kilograms, group.Limit);
        Assert.Equal("Annex I, " + clause, group.Source.Clause);
    }

    [Theory]
    [InlineData(true, true, 20_000, 19_000)]
    [InlineData(true, false, 20_000, 18_000)]
    [InlineData(false, true, 20_000, 18_000)]
    [InlineData(true, false, 9_500, 19_000)]
    [InlineData(true, false, 9_501, 18_000)]
    [InlineData(false, false, 9_500, 18_000)]
    public void Published_3_5_3_nineteen_tonnes_on_either_condition(bool twin, bool air, double each, double kilograms)
    {
        var rigid = Rigid("S0 D4.3 T5.6", twin, air).WithAxles(a => a with { Registered = Quantities.Mass.FromKilograms(each) });
        Assert.Equal(kilograms, Margins(Couple(rigid)).Limit(MarginKind.Group, 0, 1));
    }

    [Fact]
    public void A_motor_tandem_from_1_8_m_has_no_row_and_is_two_single_axles()
    {
        var margins = Margins(Couple(Rigid("S0 D4.3 T6.1")));
        Assert.Null(margins.Limit(MarginKind.Group, 0, 1));
        Assert.Equal(11_500, margins.Limit(MarginKind.Axle, 0, 1));
        Assert.Equal(10_000, margins.Limit(MarginKind.Axle, 0, 2));
    }

    [Fact]
    public void A_tridem_wider_than_the_table_is_two_tandems_that_share_the_middle_axle()
    {
        var margins = Margins(Couple(Tractor("S0 D3.7"), Semi("A6.3 A7.8 A9.3")));
        Assert.Null(margins.Limit(MarginKind.Group, 1, 1));
        var first = margins.Find(MarginKind.Group, 1, 2 + 2)!;
        Assert.Equal(18_000, first.Limit);
        Assert.Equal(500, first.Over(0, 0, 9_500, 9_000, 5_000, 0));
        Assert.Equal(18_000, margins.Limit(MarginKind.Group, 1, 2 + 3));
        Assert.Contains("no row for all 3 axles", first.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void Uneven_spacing_takes_the_stricter_row() =>
        Assert.Equal(21_000, Margins(Couple(Tractor("S0 D3.7"), Semi("A6.3 A7.6 A9.0"))).Limit(MarginKind.Group, 1, 1));

    [Fact]
    public void A_raised_tag_leaves_the_driving_axle_its_own_limit()
    {
        var rigid = Couple(Rigid("S0 D4.3 T5.65^"));
        Assert.Equal(19_000, Margins(rigid).Limit(MarginKind.Group, 0, 1));
        var raised = Margins(rigid, new Configuration(Raised: 0b100));
        Assert.Null(raised.Limit(MarginKind.Group, 0, 1));
        Assert.Equal(11_500, raised.Limit(MarginKind.Axle, 0, 1));
        Assert.Null(raised.Limit(MarginKind.Axle, 0, 2));
        Assert.Null(raised.Limit(MarginKind.AxleRating, 0, 2));
    }

    [Fact]
    public void A_raised_middle_axle_widens_the_tandem_that_is_left()
    {
        var coupled = Couple(Tractor("S0 D3.7"), Semi("A6.3^ A7.61^ A8.92"));
        Assert.Equal(24_000, Margins(coupled).Limit(MarginKind.Group, 1, 1));
        Assert.Equal(18_000, Margins(coupled, new Configuration(Raised: 0b00100)).Limit(MarginKind.Group, 1, 1));
        Assert.Equal(20_000, Margins(coupled, new Configuration(Raised: 0b01000)).Limit(MarginKind.Group, 1, 1));
        var one = Margins(coupled, new Configuration(Raised: 0b01100));
        Assert.Null(one.Limit(MarginKind.Group, 1, 1));
        Assert.Equal(10_000, one.Limit(MarginKind.Axle, 1, 4));
    }

    [Fact]
    public void An_axle_with_relieved_bellows_is_taken_as_not_there_in_its_group()
    {
        var coupled = Couple(Tractor("S0 D3.7"), Semi("A6.3^ A7.61 A8.92"));
        var margins = Margins(coupled, new Configuration(0, Unloaded: 0b00100));
        Assert.Equal(18_000, margins.Limit(MarginKind.Group, 1, 2 + 3));
        Assert.Null(margins.Limit(MarginKind.Axle, 1, 2));
    }

    [Fact]
    public void Close_twin_steer_axles_are_a_tandem_without_the_driving_axle_condition() =>
        Assert.Equal(18_000, Margins(Couple(Rigid("S0 S1.7 D5 D6.35"))).Limit(MarginKind.Group, 0, 0));
}
