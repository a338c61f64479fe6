namespace AxleTelemetry.Domain.Lanes;

/// <summary>What is known of the fuel aboard: reported, or counted as burnt.</summary>
internal static class FuelCount
{
    private const double FuelPerKm = 0.25, MostFuelCounted = 200, FuelDensity = 0.832, CrewAndKit = 110, FuelKnownSd = 40;

    /// <summary>Reported fuel makes the service load known to 40 kg.</summary>
    public static void Take(LaneSetup setup, LaneState state, double litres)
    {
        var column = setup.Model.Budget.ServiceColumn(0);
        if (column < 0) return;
        var sd = setup.Model.Budget.Errors[column].Sd;
        if (sd <= 0) return;
        var service = setup.Combination.Vehicles[0].Service!;
        state.Known.Deviation[column] = (FuelDensity * litres + CrewAndKit - service.Mean.Kilograms) / sd;
        state.Known.Remaining[column] = Math.Min(1, FuelKnownSd / sd);
    }

    /// <summary>Fuel not reported is counted as burnt since the load began.</summary>
    public static void Burn(LaneSetup setup, LaneState state)
    {
        var column = setup.Model.Budget.ServiceColumn(0);
        if (column < 0 || state.Known.Remaining[column] < 1) return;
        var sd = setup.Model.Budget.Errors[column].Sd;
        if (sd <= 0) return;
        var burnt = Math.Min(FuelPerKm * (state.Motion.Metres - state.Load.BeganMetres) / 1000, MostFuelCounted);
        state.Known.Deviation[column] = -burnt / sd;
    }
}
