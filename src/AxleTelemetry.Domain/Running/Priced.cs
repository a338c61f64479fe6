namespace AxleTelemetry.Domain.Running;

/// <summary>Work at one set of values, with no word on how sure they are.</summary>
internal readonly record struct Priced(double Litres, double TankToWheel, double WellToWheel, double Fuel, double Tyres)
{
    private const double JoulesPerMegajoule = 1e6;

    public double Money => Fuel + Tyres;

    /// <param name="work">The work, run with the slip stiffness <paramref name="ranWith"/>.</param>
    /// <param name="ranWith">Slip stiffness of the run.</param>
    /// <param name="values">Values in the order of <see cref="Assumption"/>.</param>
    public static Priced Of(in RoadWork work, double ranWith, ReadOnlySpan<double> values)
    {
        var joules = work.TyreJoules * Value(values, Assumption.TyreCoefficient)
            + work.TurningMetres * Value(values, Assumption.HubDrag)
            + work.ScrubJoules * Value(values, Assumption.SlipStiffness) / ranWith;
        var kilograms = joules / (Value(values, Assumption.DrivelineEfficiency) * Value(values, Assumption.FuelEnergy) * JoulesPerMegajoule);
        var litres = kilograms / Value(values, Assumption.FuelDensity);
        return new Priced(
            litres,
            kilograms * Value(values, Assumption.TankToWheel),
            kilograms * Value(values, Assumption.WellToWheel),
            litres * Value(values, Assumption.FuelPrice),
            work.Tread * Value(values, Assumption.TreadWear) * PerCubicDecimetre(values));
    }

    /// <summary>Half of what two differ by, squared: the variance that one assumption brings.</summary>
    public static Priced Variance(in Priced high, in Priced low) => new(
        Square(high.Litres - low.Litres), Square(high.TankToWheel - low.TankToWheel), Square(high.WellToWheel - low.WellToWheel),
        Square(high.Fuel - low.Fuel), Square(high.Tyres - low.Tyres));

    public static double Square(double difference) => difference * difference / 4;

    public static Priced operator +(in Priced a, in Priced b) =>
        new(a.Litres + b.Litres, a.TankToWheel + b.TankToWheel, a.WellToWheel + b.WellToWheel, a.Fuel + b.Fuel, a.Tyres + b.Tyres);

    public static double Value(ReadOnlySpan<double> values, Assumption assumption) => values[(int)assumption];

    // A casing bears its new tread and its retreads; each has the same rubber to lose.
    private static double PerCubicDecimetre(ReadOnlySpan<double> values)
    {
        var retreads = Value(values, Assumption.RetreadsPerTyre);
        return (Value(values, Assumption.TyrePrice) + retreads * Value(values, Assumption.RetreadPrice))
            / ((1 + retreads) * Value(values, Assumption.TreadVolume));
    }
}
