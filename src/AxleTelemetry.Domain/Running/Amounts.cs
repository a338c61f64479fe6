using AxleTelemetry.Domain.Loads;

namespace AxleTelemetry.Domain.Running;

/// <summary>What work comes to. Errors are those of the assumptions, common to all kilometres: they do not average away.</summary>
/// <param name="Litres">Fuel, l.</param>
/// <param name="TankToWheelKilograms">CO2 equivalent of burning it, kg.</param>
/// <param name="WellToWheelKilograms">CO2 equivalent of making and burning it, kg.</param>
/// <param name="FuelMoney">Its price.</param>
/// <param name="TyreMoney">Tread worn, by the price of tyres and retreads.</param>
/// <param name="Money">Both.</param>
public readonly record struct Amounts(
    Estimated Litres, Estimated TankToWheelKilograms, Estimated WellToWheelKilograms, Estimated FuelMoney, Estimated TyreMoney, Estimated Money);

/// <summary>Work with its price.</summary>
/// <param name="Metres">The road it was done on.</param>
/// <param name="Currency">Code of ISO 4217.</param>
/// <param name="All">With the hub drag assumed.</param>
/// <param name="WithoutHubs">With hubs and brakes that drag nothing: never show a saving without it.</param>
public sealed record Valued(double Metres, string Currency, Amounts All, Amounts WithoutHubs)
{
    /// <summary>Money on 100 km; zero without a road.</summary>
    public Estimated MoneyPer100Km => Per100Km(All.Money);

    /// <summary>Litres on 100 km; zero without a road.</summary>
    public Estimated LitresPer100Km => Per100Km(All.Litres);

    private Estimated Per100Km(Estimated amount) =>
        Metres > 0 ? new(amount.Mean * 100_000 / Metres, amount.Sd * 100_000 / Metres) : default;
}
