using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Tests.Running;

public sealed class RollingResistanceTests
{
    private static readonly Tyres Tyre = new() { Count = 2, Capacity = Mass.FromKilograms(8_000), RollingResistance = 5.5 };

    /// <summary>
    /// Regulation (EU) 2017/2400: exponent 0.9, reference load 85 % of the tyre's capacity (published); layout of the formula
    /// from memory. RRC 0.0055 at half the reference load gives 0.0058948.
    /// </summary>
    [Fact]
    public void Coefficient_rises_as_the_load_falls_published_exponent() =>
        Assert.Equal(0.0058948, RollingResistance.Coefficient(Tyre, 0.5 * 0.85 * 8_000), 7);

    [Fact]
    public void Coefficient_is_the_stated_one_at_the_reference_load() =>
        Assert.Equal(0.0055, RollingResistance.Coefficient(Tyre, 0.85 * 8_000), 12);

    /// <summary>The same weight on one axle instead of two rolls a little easier: 2^-0.1 of it, and never by the number of axles.</summary>
    [Fact]
    public void Lifting_saves_the_tenth_power_and_no_more()
    {
        var two = 2 * RollingResistance.Newtons(Tyre, 3_000);
        var one = RollingResistance.Newtons(Tyre, 6_000);
        Assert.Equal(Math.Pow(2, -0.1), one / two, 12);
    }

    /// <summary>43.0 MJ/kg (IPCC 2006) and 0.832 kg/l (weak copy) at 40 % (common practice): 100 N cost 0.70 l per 100 km.</summary>
    [Fact]
    public void Litres_follow_from_force() => Assert.Equal(0.699, RollingResistance.LitresPer100Km(100), 3);

    [Fact]
    public void An_axle_off_the_road_rolls_for_nothing() => Assert.Equal(0, RollingResistance.Newtons(Tyre, 0));
}
