using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Loads;

/// <summary>What is known of where a payload sits before anything is measured, as one more measurement.</summary>
internal static class PayloadPlace
{
    /// <summary>Least mass for which a place means anything, kg.</summary>
    public const double LeastMass = 500;

    // How many standard deviations of the mass towards empty its fill is taken at: with one, a bare trailer is covered
    // in 90 % of cases only; with two and a half, in 93 % (EstimatorCoverage). A powered vehicle's mass is known better: one is enough.
    private const double FillDoubt = 2.5, PoweredFillDoubt = 1;

    // A space is filled from the headboard and emptied from the rear, but not always: of the way that the centre of a part load could go
    // forward if all of it stood at the front (half of what is empty) this much is expected, with this spread. Common practice. Not on a
    // trailer that rests on a coupling: it may be known by that coupling alone, and any mass would be as likely as another then.
    private const double Forward = 0.27, ForwardSd = 0.12;

    /// <summary>The expected place as a measurement: 0 = moment - centre x mass, as sharp as the space allows at that mass.</summary>
    public static void Add(Span<double> information, int n, BodyPart body, double mass, double spread)
    {
        // How full the space is, is known no better than the mass itself: the emptier end counts, where a load may sit anywhere.
        // Where the mass is poorly known it goes with the place (more mass further from the sensed support), and the
        // inverse of a normal lever is skewed: to second order its variance is r2 + 8 r4, with r the relative spread.
        var sd = Sd(body.Vehicle, mass - (body.Vehicle.Kind.IsPowered() ? PoweredFillDoubt : FillDoubt) * spread) * Math.Sqrt(Math.Max(mass * mass, LeastMass * LeastMass) + 8 * spread * spread);
        double x = Centre(body.Vehicle, mass), weight = 1 / (sd * sd);
        var p = body.StateIndex;
        information[p * n + p] += weight * x * x;
        information[p * n + p + 1] -= weight * x;
        information[(p + 1) * n + p] -= weight * x;
        information[(p + 1) * n + p + 1] += weight;
    }

    /// <summary>Where the payload's centre is expected, m: as the owner states; else the middle of a full space, and forward of it the emptier it is.</summary>
    public static double Centre(VehicleDescription vehicle, double mass) => vehicle.LoadSpace!.Centre.Metres - Forward * HalfEmpty(vehicle, mass);

    /// <summary>Spread of the payload's centre: a part load may sit anywhere, a full one fills the space.</summary>
    public static double Sd(VehicleDescription vehicle, double mass)
    {
        var space = vehicle.LoadSpace!;
        // A part load is below 60 % of what is permitted, a full one above 90 %. Common practice.
        var fill = Math.Clamp((mass / space.Permitted.Kilograms - 0.6) / 0.3, 0, 1);
        var spread = space.PartLoadSd.Metres + fill * (space.FullLoadSd.Metres - space.PartLoadSd.Metres);
        var forward = ForwardSd * HalfEmpty(vehicle, mass);
        return Math.Sqrt(spread * spread + forward * forward);
    }

    /// <summary>Half the length that is empty where the load fills the rest, m; zero where the owner states the centre, and for what flows.</summary>
    private static double HalfEmpty(VehicleDescription vehicle, double mass)
    {
        var space = vehicle.LoadSpace!;
        if (space.ExpectedCentre is not null || space.Discharges || vehicle.Kind.RestsOnCoupling()) return 0;
        return 0.5 * (1 - Math.Clamp(mass / space.Permitted.Kilograms, 0, 1)) * (space.Rear.Metres - space.Front.Metres);
    }
}
