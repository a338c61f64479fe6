using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Simulator.Fleet;

/// <summary>Random axles with masses, ratings and tyres of their role. Ranges are common practice, without a source.</summary>
internal static class AxlePlan
{
    public static Axle Steer(SeededRandom random, string key, double x) =>
        Of(random, key, AxleRole.Steer, x) with { Steering = Steering.Steered };

    public static Axle Drive(SeededRandom random, string key, double x) => Of(random, key, AxleRole.Drive, x);

    public static Axle Trailer(SeededRandom random, int number, double x) => Of(random, $"trailer-{number}", AxleRole.Trailer, x);

    /// <summary>A tag or pusher, or a trailer's axle, that a lift raises; its bellows may keep a force of their own or have a ceiling.</summary>
    public static Axle Lifting(SeededRandom random, Axle axle)
    {
        var lift = new Lift { CanUnload = random.Chance(0.5), MovingOffAid = random.Chance(0.5) ? 0.30 : 0 };
        axle = axle with { Lift = lift };
        if (axle.Role == AxleRole.Trailer) return axle;
        return random.Chance(0.25) ? axle with { RegulatedForce = Kilograms(random.Between(2500, 6000)) } : axle;
    }

    /// <summary>A valve that limits the bellows' pressure.</summary>
    public static Axle Limited(SeededRandom random, Axle axle) =>
        axle with { CeilingForce = Kilograms(random.Between(0.55, 0.95) * axle.Rating.Kilograms) };

    public static Axle Undriven(SeededRandom random, AxleRole role, double x) =>
        Of(random, role == AxleRole.Tag ? "tag" : "pusher", role, x) with
        {
            Steering = random.Pick(Steering.None, Steering.Steered, Steering.SelfSteering),
        };

    private static Axle Of(SeededRandom random, string key, AxleRole role, double x)
    {
        var (least, most, rating) = role switch
        {
            AxleRole.Steer => (650, 800, 8000),
            AxleRole.Drive => (1100, 1400, 11500),
            AxleRole.Tag or AxleRole.Pusher => (600, 850, 7500),
            AxleRole.Trailer => (700, 850, 9000),
            _ => throw new ArgumentOutOfRangeException(nameof(role), role, "Unknown role."),
        };
        return new Axle
        {
            Key = key,
            Role = role,
            Position = Length.FromMetres(x),
            Unsprung = Kilograms(random.Between(least, most)),
            Rating = Kilograms(rating),
            Tyres = new Tyres { Count = role == AxleRole.Drive ? 4 : 2, Capacity = Kilograms(rating * 1.05) },
        };
    }

    private static Mass Kilograms(double value) => Mass.FromKilograms(Math.Round(value));
}
