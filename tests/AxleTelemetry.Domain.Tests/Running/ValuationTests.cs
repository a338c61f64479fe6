using AxleTelemetry.Domain.Running;
using AxleTelemetry.Messages.Running;
using CsCheck;

namespace AxleTelemetry.Domain.Tests.Running;

public sealed class ValuationTests
{
    private static readonly Assumptions Shipped = AssumptionsFile.Shipped;

    /// <summary>By hand: 100 N over 100 km is 10 MJ; / (0.40 x 42.7 MJ/kg) = 0.58548 kg, / 0.832 = 0.70370 l; x 2.97 and 3.76 (EN 16258, published).</summary>
    [Fact]
    public void A_force_costs_fuel_and_carbon_as_by_hand()
    {
        var value = Valuation.Of(new RoadWork(100_000, 1e7, 0, 0, 0), Shipped).All;
        Assert.Equal(0.70370, value.Litres.Mean, 5);
        Assert.Equal(1.73888, value.TankToWheelKilograms.Mean, 5);
        Assert.Equal(2.20141, value.WellToWheelKilograms.Mean, 5);
        Assert.Equal(0.70370 * 1.5, value.FuelMoney.Mean, 4);
        Assert.Equal(0, value.TyreMoney.Mean);
    }

    /// <summary>By hand: (450 + 220) for two treads of 8 dm3 is 41.875 a dm3; 1 000 MN m x 0.0029 = 2.9 dm3.</summary>
    [Fact]
    public void Tread_worn_costs_its_part_of_the_casing() =>
        Assert.Equal(2.9 * 41.875, Valuation.Of(new RoadWork(100_000, 0, 0, 0, 1_000), Shipped).All.TyreMoney.Mean, 9);

    /// <summary>Diesel, 43.0 MJ/kg and 74.1 g/MJ (IPCC 2006, published): 3.186 kg CO2 a kilogram, and 2.66 kg CO2e a litre with 0.832 kg/l (weak copy; CO2 alone 2.651).</summary>
    [Fact]
    public void Carbon_of_pure_diesel_follows_from_energy()
    {
        var pure = Shipped.With(Assumption.FuelEnergy, 43.0, 0).With(Assumption.TankToWheel, 43.0 * 0.0741, 0);
        var value = Valuation.Of(new RoadWork(1, 1e9, 0, 0, 0), pure).All;
        Assert.Equal(3.186, pure[Assumption.TankToWheel].Value, 3);
        Assert.Equal(2.66, value.TankToWheelKilograms.Mean / value.Litres.Mean, 0.01);
    }

    [Fact]
    public void Hub_drag_brings_half_of_itself_as_spread()
    {
        var exact = Only(Assumption.HubDrag);
        var litres = Valuation.Of(new RoadWork(1_000, 0, 1_000, 0, 0), exact).All.Litres;
        Assert.Equal(0.5, litres.Sd / litres.Mean, 9);
    }

    [Theory]
    [InlineData(Assumption.TyreCoefficient, 0.05)]
    [InlineData(Assumption.DrivelineEfficiency, 0.05)]
    [InlineData(Assumption.FuelDensity, 0.0072)]
    public void Each_assumption_brings_its_part(Assumption assumption, double expected)
    {
        var litres = Valuation.Of(new RoadWork(1_000, 1e6, 0, 0, 0), Only(assumption)).All.Litres;
        Assert.Equal(expected, litres.Sd / litres.Mean, 0.0002);
    }

    [Fact]
    public void Stiffness_brings_its_part_of_scrub()
    {
        var litres = Valuation.Of(new RoadWork(1_000, 0, 0, 1e6, 0), Only(Assumption.SlipStiffness)).All.Litres;
        Assert.Equal(15.0 / 55, litres.Sd / litres.Mean, 9);
    }

    [Fact]
    public void Tread_wear_brings_its_part_of_tyre_money()
    {
        var money = Valuation.Of(new RoadWork(1_000, 0, 0, 0, 5), Only(Assumption.TreadWear)).All.TyreMoney;
        Assert.Equal(0.0009 / 0.0029, money.Sd / money.Mean, 9);
    }

    /// <summary>Errors are common to all kilometres: ten times the road is ten times the spread, not its root.</summary>
    [Fact]
    public void Errors_do_not_average_away()
    {
        var once = Valuation.Of(new RoadWork(1_000, 1e6, 3_000, 1e5, 1), Shipped).All;
        var tenfold = Valuation.Of(new RoadWork(10_000, 1e7, 30_000, 1e6, 10), Shipped).All;
        Assert.Equal(10 * once.Money.Sd, tenfold.Money.Sd, 9);
        Assert.Equal(10 * once.Litres.Sd, tenfold.Litres.Sd, 9);
    }

    /// <summary>What is valued in one or in parts comes to the same, and a spread of the whole is never more than those of its parts.</summary>
    [Fact]
    public void Amounts_of_parts_add_up() => Gen.Select(Work, Work).Sample((a, b) =>
    {
        var (first, second, both) = (Valuation.Of(a, Shipped).All, Valuation.Of(b, Shipped).All, Valuation.Of(a + b, Shipped).All);
        return Math.Abs(first.Money.Mean + second.Money.Mean - both.Money.Mean) <= 1e-9 * Math.Abs(both.Money.Mean)
            && both.Money.Sd <= (first.Money.Sd + second.Money.Sd) * (1 + 1e-9);
    }, seed: "0000KeXbAoz3", print: _ => "seed 0000KeXbAoz3");

    private static readonly Gen<RoadWork> Work = Gen.Select(Gen.Double[1, 1e6], Gen.Double[0, 1e9], Gen.Double[0, 1e6], Gen.Double[0, 1e8])
        .Select((metres, tyres, turning, scrub) => new RoadWork(metres, tyres, turning, scrub, tyres / 1e6));

    [Fact]
    public void Common_errors_fall_out_of_a_difference()
    {
        RoadWork lowered = new(1_000, 1.00e6, 6_000, 0, 0), raised = new(1_000, 0.97e6, 5_000, 0, 0);
        var saved = Valuation.Of(lowered - raised, Shipped).All.Litres;
        var apart = Math.Sqrt(Math.Pow(Valuation.Of(lowered, Shipped).All.Litres.Sd, 2) + Math.Pow(Valuation.Of(raised, Shipped).All.Litres.Sd, 2));
        Assert.True(saved.Sd < apart / 3, $"{saved.Sd} and {apart}");
    }

    /// <summary>By hand: 0.2 MJ goes from one axle to others; 5 % of the root of its squares.</summary>
    [Fact]
    public void Weight_that_moves_between_axles_meets_other_tyres()
    {
        var saved = new RoadWork(1_000, 20_000, 0, 0, 0);
        var certain = Only(Assumption.TyreCoefficientByAxle);
        var (mean, sd) = Valuation.Of(saved, certain, [-90_000, -90_000, 200_000]).All.Litres;
        Assert.Equal(0.05 * Math.Sqrt(0.81e10 * 2 + 4e10) / 20_000, sd / mean, 9);
        Assert.Equal(0, Valuation.Of(saved, certain).All.Litres.Sd);
    }

    [Fact]
    public void Without_hubs_only_tyres_are_saved()
    {
        var saved = Valuation.Of(new RoadWork(1_000, 20_000, 1_000, 0, 0), Shipped);
        Assert.Equal(Valuation.Of(new RoadWork(1_000, 20_000, 0, 0, 0), Shipped).All, saved.WithoutHubs);
        Assert.Equal(3 * saved.WithoutHubs.Litres.Mean, saved.All.Litres.Mean, 9);
    }

    [Fact]
    public void Money_is_fuel_and_tyres_with_the_errors_they_share()
    {
        var value = Valuation.Of(new RoadWork(50_000, 1e7, 100_000, 1e5, 20), Shipped);
        Assert.Equal(value.All.FuelMoney.Mean + value.All.TyreMoney.Mean, value.All.Money.Mean, 9);
        Assert.Equal(2 * value.All.Money.Mean, value.MoneyPer100Km.Mean, 9);
        Assert.InRange(value.All.Money.Sd, Math.Max(value.All.FuelMoney.Sd, value.All.TyreMoney.Sd), value.All.FuelMoney.Sd + value.All.TyreMoney.Sd);
    }

    private static Assumptions Only(Assumption kept) => AssumptionTerm.All.Where(t => t.Assumption != kept)
        .Aggregate(Shipped, (all, term) => all.With(term.Assumption, all[term.Assumption] with { Sd = 0 }));
}
