using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Statistics;

namespace AxleTelemetry.Domain.Running;

/// <summary>
/// Does a lift pay? Saved fuel and tyres against price over life, upkeep, and its own mass rolled on all kilometres. What its mass costs on
/// climbs and starts is left out, payload lost too unless the owner values it.
/// </summary>
public static class LiftableAxlePays
{
    private static readonly int Count = AssumptionTerm.All.Length;

    /// <summary>The answer, and the same with hubs that drag nothing.</summary>
    /// <exception cref="ArgumentOutOfRangeException">No road, no mass or no year's distance to reckon with.</exception>
    /// <exception cref="ArgumentException">What was saved was not saved on the road that was driven.</exception>
    public static (LiftAnswer All, LiftAnswer WithoutHubs) Answer(LiftCase lift, Assumptions assumptions)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(lift.Driven.Metres);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(lift.Gross.Kilograms);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(lift.KilometresPerYear);
        if (Math.Abs(lift.Saved.Metres - lift.Driven.Metres) > 1e-6 * lift.Driven.Metres) throw new ArgumentException("Driven and saved are of one road.", nameof(lift));
        return (Of(lift, assumptions), Of(lift, assumptions.WithoutHubs));
    }

    private static LiftAnswer Of(LiftCase lift, Assumptions assumptions)
    {
        Span<double> values = stackalloc double[Count];
        assumptions.Values(values);
        var stiffness = assumptions[Assumption.SlipStiffness].Value;
        var (perKilometre, yearly) = (PerKilometre(lift, stiffness, values), Fixed(values));
        var own = Priced.Of(Valuation.AxleError(lift.SavedTyreJoules.AsSpan(), assumptions), stiffness, values).Money / Kilometres(lift);
        double varianceOfSaved = own * own, varianceOfFixed = 0;
        for (var i = 0; i < Count; i++)
        {
            var (value, sd) = (values[i], assumptions[(Assumption)i].Sd);
            if (sd == 0) continue;
            values[i] = value + sd;
            var (savedHigh, fixedHigh) = (PerKilometre(lift, stiffness, values), Fixed(values));
            values[i] = value - sd;
            varianceOfSaved += Priced.Square(savedHigh - PerKilometre(lift, stiffness, values));
            varianceOfFixed += Priced.Square(fixedHigh - Fixed(values));
            values[i] = value;
        }

        return Answer(assumptions.Currency, lift.KilometresPerYear, new(perKilometre, Math.Sqrt(varianceOfSaved)), new(yearly, Math.Sqrt(varianceOfFixed)));
    }

    private static LiftAnswer Answer(string currency, double kilometres, Estimated perKilometre, Estimated yearly)
    {
        var saved = new Estimated(perKilometre.Mean * kilometres, perKilometre.Sd * kilometres);
        var net = new Estimated(saved.Mean - yearly.Mean, Math.Sqrt(saved.Sd * saved.Sd + yearly.Sd * yearly.Sd));
        var probability = net.Sd > 0 ? Normal.Cdf(net.Mean / net.Sd) : net.Mean > 0 ? 1 : 0;
        return new LiftAnswer(currency, saved, yearly, net, probability, BreakEvenOf(perKilometre, yearly));
    }

    /// <summary>Where saved x - fixed is as many standard deviations from zero as 97.5 % asks: a quadratic in the kilometres x.</summary>
    private static BreakEven BreakEvenOf(Estimated saved, Estimated yearly)
    {
        if (saved.Mean <= 0) return new BreakEven.Never();
        var a = saved.Mean * saved.Mean - saved.HalfWidth * saved.HalfWidth;
        var b = saved.Mean * yearly.Mean;
        var c = yearly.Mean * yearly.Mean - yearly.HalfWidth * yearly.HalfWidth;
        var root = Math.Sqrt(Math.Max(b * b - a * c, 0));
        // c / (b + root) is (b - root) / a without its cancellation, and holds for a = 0.
        var least = b + root > 0 ? Math.Max(c / (b + root), 0) : 0;
        return new BreakEven.From(yearly.Mean / saved.Mean, least, a > 0 ? (b + root) / a : null);
    }

    private static double Kilometres(LiftCase lift) => lift.Driven.Metres / 1_000;

    private static double PerKilometre(LiftCase lift, double stiffness, ReadOnlySpan<double> values) =>
        Priced.Of(lift.Saved - Carried(lift, values), stiffness, values).Money / Kilometres(lift);

    /// <summary>Rolling resistance goes with load to the power of beta, so a little more load costs beta times its part of the whole.</summary>
    private static RoadWork Carried(LiftCase lift, ReadOnlySpan<double> values) => new(
        0, lift.Driven.TyreJoules * Priced.Value(values, Assumption.Beta) * Priced.Value(values, Assumption.LiftMass) / lift.Gross.Kilograms, 0, 0, 0);

    private static double Fixed(ReadOnlySpan<double> values) =>
        Annuity(Priced.Value(values, Assumption.LiftPrice), Priced.Value(values, Assumption.Interest), Priced.Value(values, Assumption.LiftLife))
        + Priced.Value(values, Assumption.LiftUpkeep)
        + Priced.Value(values, Assumption.PayloadLost) * Priced.Value(values, Assumption.LiftMass);

    /// <summary>What a price costs a year over a life, with interest on what is tied up.</summary>
    internal static double Annuity(double price, double interest, double years) =>
        Math.Abs(interest) < 1e-9 ? price / years : price * interest / (1 - Math.Pow(1 + interest, -years));
}
