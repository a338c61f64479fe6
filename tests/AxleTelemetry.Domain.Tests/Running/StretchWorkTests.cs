using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Tests.Limits;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Tests.Running;

public sealed class StretchWorkTests
{
    private const double Stiffness = 55;

    private static readonly RunningRules Plain = new() { Beta = 1, HubDragNewtons = 0, SlipStiffnessPerKilogram = Stiffness };

    private static readonly Driving Straight = new(20, Bends.Straight);

    /// <summary>Common practice: with an exponent of 1 the same weight rolls as hard on fewer tyres, so only hubs and scrub are left to save.</summary>
    [Fact]
    public void Without_exponent_hubs_and_scrub_lifting_saves_nothing()
    {
        var truck = LimitFleet.Couple(LimitFleet.Rigid("S0 D4.5 T5.8^"));
        var lowered = Sum(new(truck, default, Plain), [6_000, 7_000, 5_000], Straight);
        var raised = Sum(new(truck, new Configuration(Raised: 0b100), Plain), [5_200, 12_800, 0], Straight);
        Assert.Equal(0, (lowered - raised).TyreJoules, 1e-9 * lowered.TyreJoules);
        Assert.Equal(1_000, (lowered - raised).TurningMetres);
    }

    /// <summary>2^-0.1 of the resistance where two axles of one load become one of twice the load.</summary>
    [Fact]
    public void With_the_published_exponent_it_saves_the_tenth_power()
    {
        var semi = LimitFleet.Couple(LimitFleet.Tractor("S0 D3.6"), LimitFleet.Semi("A6 A7.3^"));
        double[] two = [0, 0, 5_000, 5_000], one = [0, 0, 10_000, 0];
        var lowered = Sum(new(semi, default, RunningRules.Default), two, Straight);
        var raised = Sum(new(semi, new Configuration(Raised: 0b1000), RunningRules.Default), one, Straight);
        Assert.Equal(Math.Pow(2, -0.1), raised.TyreJoules / lowered.TyreJoules, 1e-12);
    }

    /// <summary>By hand: 0.65 m either side of the centre, R 50 m: 55 x 8 000 x (0.65 / 50)^2 = 74.36 N each.</summary>
    [Fact]
    public void Symmetric_tandem_scrubs_as_by_hand()
    {
        var truck = LimitFleet.Couple(LimitFleet.Rigid("S0 D4.5 T5.8"));
        var axles = Axles(new(truck, default, Plain), [6_000, 8_000, 8_000], new(10, Bends.OfRadius(50, 10)));
        Assert.Equal(0, axles[0].ScrubNewtons);
        Assert.Equal(74.36, axles[1].ScrubNewtons, 9);
        Assert.Equal(74.36, axles[2].ScrubNewtons, 9);
    }

    /// <summary>Tridem, equal loads: the middle axle turns about itself.</summary>
    [Fact]
    public void The_middle_axle_of_a_tridem_does_not_scrub()
    {
        var unit = LimitFleet.Couple(LimitFleet.Tractor("S0 D3.6"), LimitFleet.Semi("A6 A7.31 A8.62"));
        var axles = Axles(new(unit, default, Plain), [6_000, 10_000, 8_000, 8_000, 8_000], new(5, Bends.OfRadius(12.5, 5)));
        Assert.Equal(0, axles[1].ScrubNewtons, 12);
        Assert.Equal(0, axles[3].ScrubNewtons, 9);
        Assert.Equal(axles[2].ScrubNewtons, axles[4].ScrubNewtons, 6);
        Assert.Equal(Stiffness * 8_000 * Math.Pow(1.31 / 12.5, 2), axles[4].ScrubNewtons, 6);
    }

    /// <summary>1.31 m from the turning centre at R 12.5 m: 6.00 degrees (from memory).</summary>
    [Fact]
    public void An_axle_off_the_turning_centre_slips_by_six_degrees()
    {
        var unit = new RollingUnit(LimitFleet.Couple(LimitFleet.Tractor("S0 D3.6"), LimitFleet.Semi("A6 A7.31 A8.62")), default, Plain);
        var offset = Scrub.Offset(unit, unit.Combination.Axles[4], [6_000, 10_000, 8_000, 8_000, 8_000], 5);
        Assert.Equal(1.31, offset, 9);
        Assert.Equal(6.00, Scrub.SlipAngle(offset, 12.5) * 180 / Math.PI, 0.02);
    }

    [Fact]
    public void A_self_steering_axle_scrubs_only_where_it_is_locked()
    {
        var truck = LimitFleet.Couple(LimitFleet.Rigid("S0 D4.5 T5.8").WithAxles(a => a.Role == AxleRole.Tag ? a with { Steering = Steering.SelfSteering } : a));
        double[] loads = [6_000, 8_000, 8_000];
        Assert.Equal(0, Sum(new(truck, default, Plain), loads, new(24 / 3.6, Bends.OfRadius(30, 24 / 3.6))).ScrubJoules);
        Assert.True(Sum(new(truck, default, Plain), loads, new(26 / 3.6, Bends.OfRadius(30, 26 / 3.6))).ScrubJoules > 0);
    }

    [Fact]
    public void Axles_under_a_turntable_turn_with_it()
    {
        var train = LimitFleet.Couple(LimitFleet.Rigid("S0 D4.5"), LimitFleet.Drawbar("A2 A7"));
        Assert.Equal(0, Sum(new(train, default, Plain), [6_000, 9_000, 7_000, 7_000], new(5, Bends.OfRadius(15, 5))).ScrubJoules);
    }

    [Fact]
    public void A_raised_axle_does_nothing_and_an_unloaded_one_rolls_with_what_it_carries()
    {
        var truck = LimitFleet.Couple(LimitFleet.Rigid("S0 D4.5 T5.8^"));
        double[] loads = [6_000, 11_000, 850];
        var up = Axles(new(truck, new Configuration(Raised: 0b100), Plain), [6_000, 11_850, 0], new(5, Bends.OfRadius(15, 5)));
        var relieved = Axles(new(truck, new Configuration(Raised: 0, Unloaded: 0b100), Plain), loads, new(5, Bends.OfRadius(15, 5)));
        Assert.Equal(default, up[2]);
        Assert.Equal(0, up[1].ScrubNewtons);
        Assert.True(relieved[2].Turns);
        Assert.Equal(RollingResistance.Newtons(truck.Axles[2].Axle.Tyres, 850, Plain), relieved[2].TyreNewtons);
        Assert.True(relieved[2].ScrubNewtons > 0);
    }

    /// <summary>By hand, one free axle of two tyres, straight: 12.83 N a tyre, and its own resistance squared over its weight.</summary>
    [Fact]
    public void Tread_of_a_free_axle_is_its_own_resistance()
    {
        var unit = LimitFleet.Couple(LimitFleet.Tractor("S0 D3.6"), LimitFleet.Semi("A7"));
        var axles = Axles(new(unit, default, Plain), [6_000, 10_000, 9_000], Straight);
        var resistance = 5.5e-3 * 9_000 * 9.80665;
        Assert.Equal(2 * 12.83 + resistance * resistance / (9_000 * 9.80665), axles[2].TreadNewtons, 9);
    }

    /// <summary>By hand: all resistances and 0.5 x 1.225 x 5.5 x 400 = 1 347.5 N of air on the one driven axle.</summary>
    [Fact]
    public void Tread_of_the_driven_axle_is_the_traction()
    {
        var unit = LimitFleet.Couple(LimitFleet.Tractor("S0 D3.6"), LimitFleet.Semi("A7"));
        var axles = Axles(new(unit, default, Plain with { HubDragNewtons = 40 }), [6_000, 10_000, 9_000], Straight);
        var traction = 5.5e-3 * 25_000 * 9.80665 + 3 * 40 + 1_347.5;
        Assert.Equal(4 * 12.83 + traction * traction / (10_000 * 9.80665), axles[1].TreadNewtons, 9);
    }

    /// <summary>By hand: to the side mass times v2/R, here 1 m/s2 on 9 t.</summary>
    [Fact]
    public void Tread_in_a_bend_is_the_side_force_too()
    {
        var unit = new RollingUnit(LimitFleet.Couple(LimitFleet.Tractor("S0 D3.6"), LimitFleet.Semi("A7")), default, Plain);
        double[] loads = [6_000, 10_000, 9_000];
        var bend = Axles(unit, loads, new(20, Bends.OfRadius(400, 20)))[2].TreadNewtons - Axles(unit, loads, Straight)[2].TreadNewtons;
        Assert.Equal(9_000 / 9.80665, bend, 6);
    }

    [Fact]
    public void Nothing_is_allocated()
    {
        var unit = new RollingUnit(LimitFleet.Couple(LimitFleet.Tractor("S0 D3.6"), LimitFleet.Semi("A6 A7.31 A8.62")), default, Plain);
        double[] loads = [6_000, 10_000, 8_000, 8_000, 8_000];
        var axles = new AxleWork[5];
        var driving = new Driving(5, Bends.OfRadius(12.5, 5));
        StretchWork.PerMetre(unit, loads, driving, axles);
        var before = GC.GetAllocatedBytesForCurrentThread();
        StretchWork.PerMetre(unit, loads, driving, axles);
        StretchWork.Sum(axles, 1_000);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private static RoadWork Sum(RollingUnit unit, double[] loads, Driving driving) => StretchWork.Sum(Axles(unit, loads, driving), 1_000);

    private static AxleWork[] Axles(RollingUnit unit, double[] loads, Driving driving)
    {
        var axles = new AxleWork[unit.Combination.Axles.Length];
        StretchWork.PerMetre(unit, loads, driving, axles);
        return axles;
    }
}
