using AxleTelemetry.Domain.Tests.Limits;
using AxleTelemetry.Domain.Turning;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Tests.Turning;

public sealed class SweptPathTests
{
    private static readonly TurningAssumptions Plain = new(0, 2, 1);

    /// <summary>Two axles, no overhang: corner, axle line and turning centre are one right-angled triangle.</summary>
    [Fact]
    public void A_two_axle_truck_sweeps_what_pythagoras_says()
    {
        var turn = Round(LimitFleet.Couple(LimitFleet.Rigid("S0 D6")), default, Plain);
        var middle = Math.Sqrt(12.5 * 12.5 - 36) - 1;
        Assert.Equal(middle - 1, turn.InnerRadius, 9);
        Assert.Equal(12.5 - (middle - 1), turn.SweptWidth, 9);
        Assert.Equal(Math.Sqrt(middle * middle + 36) - middle, turn.OffTracking, 9);
        Assert.Equal(turn.InnerRadius - 5.3, turn.Spare, 9);
        Assert.Equal(0, turn.MostSlip, 9);
    }

    /// <summary>Raising the tag shortens the wheelbase and takes its scrub away: the truck turns tighter and its fixed axle no longer slips.</summary>
    [Fact]
    public void A_raised_tag_turns_tighter_and_slips_less()
    {
        var truck = LimitFleet.Couple(LimitFleet.Rigid("S0 D4.6 T5.95^"));
        var (lowered, raised) = (Round(truck, default, Plain), Round(truck, new Configuration(0b100), Plain));
        Assert.True(raised.SweptWidth < lowered.SweptWidth - 0.2);
        Assert.True(lowered.MostSlip > 0.05);
        Assert.Equal(0, raised.MostSlip, 9);
    }

    [Fact]
    public void A_steered_tag_holds_nothing()
    {
        var steered = LimitFleet.Rigid("S0 D4.6 T5.95^").WithAxles(a => a.Role == AxleRole.Tag ? a with { Steering = Steering.SelfSteering } : a);
        Assert.Equal(Round(LimitFleet.Couple(LimitFleet.Rigid("S0 D4.6")), default, Plain).SweptWidth, Round(LimitFleet.Couple(steered), default, Plain).SweptWidth, 9);
    }

    /// <summary>The kingpin's offset from the drive axle counts with a negative square, whether it is ahead or behind.</summary>
    [Fact]
    public void A_semi_trailer_follows_by_signed_squares()
    {
        var pair = LimitFleet.Couple(LimitFleet.Tractor("S0 D3.8"), LimitFleet.Semi("A7.7"));
        var turn = Round(pair, default, Plain);
        var middle = Math.Sqrt(12.5 * 12.5 - 3.8 * 3.8) - 1;
        var first = Math.Sqrt(middle * middle + 3.8 * 3.8);
        Assert.Equal(OffTracking.Metres(first, 3.8 * 3.8 - 0.6 * 0.6 + 7.7 * 7.7)!.Value, turn.OffTracking, 9);
    }

    /// <summary>Lifting the first axle of a tridem moves the turning line rearward: the trailer cuts in more. Lifting the last one: less.</summary>
    [Fact]
    public void Which_trailer_axle_is_raised_decides()
    {
        var pair = LimitFleet.Couple(LimitFleet.Tractor("S0 D3.8"), LimitFleet.Semi("A6.39^ A7.7 A9.01^"));
        var (down, first, last) = (Round(pair, default, Plain), Round(pair, new Configuration(0b00100), Plain), Round(pair, new Configuration(0b10000), Plain));
        Assert.True(first.SweptWidth > down.SweptWidth);
        Assert.True(last.SweptWidth < down.SweptWidth);
    }

    /// <summary>A drawbar trailer is two bodies in a row: its drawbar, then what is behind its turntable.</summary>
    [Fact]
    public void A_drawbar_trailer_adds_drawbar_and_wheelbase()
    {
        var train = LimitFleet.Couple(LimitFleet.Rigid("S0 D4.8"), LimitFleet.Drawbar("A3 A8"));
        var middle = Math.Sqrt(12.5 * 12.5 - 4.8 * 4.8) - 1;
        var squares = 4.8 * 4.8 - 3.2 * 3.2 + 9 + 25;
        Assert.Equal(OffTracking.Metres(Math.Sqrt(middle * middle + 4.8 * 4.8), squares)!.Value, Round(train, default, Plain).OffTracking, 9);
    }

    /// <summary>From memory: (EU) 2021/535 deems a semi-trailer 2.55 m wide to pass up to sqrt(10.46^2 - 6.575^2) = 8.135 m.</summary>
    [Fact]
    public void Type_approval_takes_a_semi_trailer_by_its_reference_wheelbase()
    {
        var semi = LimitFleet.Couple(LimitFleet.Tractor("S0 D3.8"), LimitFleet.Semi("A6.39^ A7.7 A9.01^")).Bodies[1];
        Assert.Equal(8.135, ReferenceWheelbase.Most(TurningRing.Directive, 2.55), 3);
        Assert.Equal(7.7, ReferenceWheelbase.Of(semi, default)!.Value, 9);
        Assert.Equal(8.355, ReferenceWheelbase.Of(semi, new Configuration(0b00100))!.Value, 9);
    }

    [Fact]
    public void What_cannot_follow_is_named()
    {
        var pair = LimitFleet.Couple(LimitFleet.Tractor("S0 D3.8"), LimitFleet.Semi("A13"));
        Assert.Equal(1, Assert.IsType<Turn.TooTight>(SweptPath.Of(pair, default, Plain, TurningRing.Directive)).Body);
        var free = LimitFleet.Couple(LimitFleet.Tractor("S0 D3.8"), LimitFleet.Semi("A7").WithAxles(a => a with { Steering = Steering.SelfSteering }));
        Assert.Equal(1, Assert.IsType<Turn.NoFixedAxle>(SweptPath.Of(free, default, Plain, TurningRing.Directive)).Body);
    }

    private static Turn.Round Round(Combination combination, Configuration configuration, TurningAssumptions assumed) =>
        Assert.IsType<Turn.Round>(SweptPath.Of(combination, configuration, assumed, TurningRing.Directive));
}
