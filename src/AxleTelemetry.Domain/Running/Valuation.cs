using AxleTelemetry.Domain.Loads;

namespace AxleTelemetry.Domain.Running;

/// <summary>
/// Puts a price on work. To compare two ways of driving, value their difference, not both: the same errors are in both, and most of
/// them fall out of it. Each assumption is moved by its standard deviation to either side, and what that changes is its part of the spread.
/// </summary>
public static class Valuation
{
    private static readonly int Count = AssumptionTerm.All.Length;

    /// <summary>Values work.</summary>
    /// <param name="work">The work, or a difference; run by <see cref="Assumptions.Rules"/> of the same assumptions.</param>
    /// <param name="assumptions">What to reckon with.</param>
    /// <param name="axleTyreJoules">
    /// <see cref="RoadWork.TyreJoules"/> (or its difference) of every axle, which <paramref name="work"/> is the sum of. Weight that moves
    /// between axles meets other tyres: without these that error is left out, and the spread of a saving is told too small.
    /// </param>
    public static Valued Of(in RoadWork work, Assumptions assumptions, ReadOnlySpan<double> axleTyreJoules = default) => new(
        work.Metres, assumptions.Currency, Amount(work, assumptions, axleTyreJoules), Amount(work, assumptions.WithoutHubs, axleTyreJoules));

    private static Amounts Amount(in RoadWork work, Assumptions assumptions, ReadOnlySpan<double> axles)
    {
        Span<double> values = stackalloc double[Count];
        assumptions.Values(values);
        var stiffness = assumptions[Assumption.SlipStiffness].Value;
        var mean = Priced.Of(work, stiffness, values);
        var own = AxleError(axles, assumptions);
        var variance = Priced.Variance(Priced.Of(own, stiffness, values), Priced.Of(new RoadWork() - own, stiffness, values));
        double money = Priced.Square(2 * Priced.Of(own, stiffness, values).Money);
        for (var i = 0; i < Count; i++)
        {
            var (value, sd) = (values[i], assumptions[(Assumption)i].Sd);
            if (sd == 0) continue;
            values[i] = value + sd;
            var high = Priced.Of(work, stiffness, values);
            values[i] = value - sd;
            var low = Priced.Of(work, stiffness, values);
            values[i] = value;
            variance += Priced.Variance(high, low);
            money += Priced.Square(high.Money - low.Money);
        }

        return new Amounts(
            new(mean.Litres, Math.Sqrt(variance.Litres)), new(mean.TankToWheel, Math.Sqrt(variance.TankToWheel)),
            new(mean.WellToWheel, Math.Sqrt(variance.WellToWheel)), new(mean.Fuel, Math.Sqrt(variance.Fuel)),
            new(mean.Tyres, Math.Sqrt(variance.Tyres)), new(mean.Money, Math.Sqrt(money)));
    }

    /// <summary>One standard deviation of what the axles' own coefficients bring: independent from axle to axle, common to all kilometres.</summary>
    internal static RoadWork AxleError(ReadOnlySpan<double> axles, Assumptions assumptions)
    {
        double sum = 0;
        foreach (var joules in axles) sum += joules * joules;
        return new RoadWork(0, Math.Sqrt(sum) * assumptions[Assumption.TyreCoefficientByAxle].Sd, 0, 0, 0);
    }
}
