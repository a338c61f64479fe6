using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Loads;

/// <summary>What is known of where a payload sits before anything is measured, as one more measurement.</summary>
internal static class PayloadPlace
{
    /// <summary>Least mass for which a place means anything, kg.</summary>
    public const double LeastMass = 500;

    // How many standard deviations of the mass towards empty its fill is taken at: with one, a bare trailer is covered
    // in 90 % of cases only; with two and a half, in 93 % (EstimatorCoverage).
    private const double FillDoubt = 2.5;

    /// <summary>The expected place as a measurement: 0 = moment - centre x mass, as sharp as the space allows at that mass.</summary>
    public static void Add(Span<double> information, int n, BodyPart body, double mass, double spread)
    {
        var space = body.Vehicle.LoadSpace!;
        // How full the space is, is known no better than the mass itself: the emptier end counts, where a load may sit anywhere.
        // Where the mass is poorly known it goes with the place (more mass further from the sensed support), and the
        // inverse of a normal lever is skewed: to second order its variance is r2 + 8 r4, with r the relative spread.
        var sd = Sd(space, mass - FillDoubt * spread) * Math.Sqrt(Math.Max(mass * mass, LeastMass * LeastMass) + 8 * spread * spread);
        double x = space.Centre.Metres, weight = 1 / (sd * sd);
        var p = body.StateIndex;
        information[p * n + p] += weight * x * x;
        information[p * n + p + 1] -= weight * x;
        information[(p + 1) * n + p] -= weight * x;
        information[(p + 1) * n + p + 1] += weight;
    }

    /// <summary>Spread of the payload's centre: a part load may sit anywhere, a full one fills the space.</summary>
    public static double Sd(LoadSpace space, double mass)
    {
        // A part load is below 60 % of what is permitted, a full one above 90 %. Common practice.
        var fill = Math.Clamp((mass / space.Permitted.Kilograms - 0.6) / 0.3, 0, 1);
        return space.PartLoadSd.Metres + fill * (space.FullLoadSd.Metres - space.PartLoadSd.Metres);
    }
}
