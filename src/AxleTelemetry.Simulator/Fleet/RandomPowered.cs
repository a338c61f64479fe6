using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Simulator.Fleet;

/// <summary>Random rigid trucks and tractors. Ranges of geometry and mass are common practice, without a source.</summary>
public sealed class RandomPowered(SeededRandom random)
{
    /// <summary>A rigid truck with two to four axles: plain, with tag or pusher, with twin steer, or with three rear axles.</summary>
    public VehicleDescription Rigid(string id)
    {
        var wheelbase = random.Between(4.2, 6.0);
        var axles = Axles(wheelbase, random.Whole(2, 4));
        var rear = axles.Last().Position.Metres + random.Between(1.5, 2.4);
        var gross = axles.Count switch { 2 => 18_000, 3 => 26_000, _ => 32_000 };
        var vehicle = Assemble(id, VehicleKind.Rigid, axles, gross, (random.Between(3000, 4200), random.Between(1400, 3000)));
        var coupling = random.Chance(0.7) ? At(rear + random.Between(-0.8, 0.2), random.Between(0.4, 1.0)) : null;
        return vehicle with
        {
            RearCoupling = coupling,
            LoadSpace = new LoadSpace
            {
                Front = Length.FromMetres(random.Between(0.6, 1.2)),
                Rear = Length.FromMetres(rear),
                Permitted = Mass.FromKilograms(gross - vehicle.Kerb.AxleLoads.Sum(m => m.Kilograms) - 250),
                Height = Length.FromMetres(random.Between(1.5, 2.2)),
            },
            Fixtures = Fixtures(rear),
        };
    }

    /// <summary>A tractor with two or three axles and a fifth wheel ahead of its rear support.</summary>
    public VehicleDescription Tractor(string id)
    {
        var wheelbase = random.Between(3.5, 4.0);
        var axles = Axles(wheelbase, random.Whole(2, 3));
        var gross = axles.Count == 2 ? 18_000 : 26_000;
        return Assemble(id, VehicleKind.Tractor, axles, gross, (random.Between(3900, 4600), random.Between(700, 1300))) with
        {
            RearCoupling = At(wheelbase - random.Between(0.3, 0.7), random.Between(1.0, 1.25)),
        };
    }

    private List<Axle> Axles(double wheelbase, int count)
    {
        var spread = random.Between(1.3, 1.4);
        List<Axle> axles = [AxlePlan.Steer(random, "steer", 0)];
        if (count == 4 && random.Chance(0.6)) axles.Add(AxlePlan.Steer(random, "steer-2", random.Between(1.7, 2.1)));
        var drive = AxlePlan.Drive(random, "drive", wheelbase);
        // A valve can limit an axle only where a neighbour takes the rest.
        if (count - axles.Count > 1 && random.Chance(0.3)) drive = AxlePlan.Limited(random, drive);
        switch (count - axles.Count)
        {
            case 1:
                axles.Add(drive);
                break;
            case 2:
                axles.AddRange(random.Whole(0, 2) switch
                {
                    0 => [drive, Undriven(AxleRole.Tag, wheelbase + spread)],
                    1 => [Undriven(AxleRole.Pusher, wheelbase - spread), drive],
                    _ => (Axle[])[drive, AxlePlan.Drive(random, "drive-2", wheelbase + spread)],
                });
                break;
            default:
                axles.AddRange([Undriven(AxleRole.Pusher, wheelbase - spread), drive, Undriven(AxleRole.Tag, wheelbase + spread)]);
                break;
        }

        return axles;
    }

    private Axle Undriven(AxleRole role, double x)
    {
        var axle = AxlePlan.Undriven(random, role, x);
        if (random.Chance(0.8)) axle = AxlePlan.Lifting(random, axle);
        return axle.RegulatedForce is null && random.Chance(0.4) ? AxlePlan.Limited(random, axle) : axle;
    }

    private VehicleDescription Assemble(string id, VehicleKind kind, List<Axle> axles, double gross, (double Front, double Rear) sprung)
    {
        var steered = axles.Count(a => a.Role == AxleRole.Steer);
        var front = new AxleGroup
        {
            Name = "front",
            Axles = [.. Enumerable.Range(0, steered)],
            Law = ShareLaw.SeparateSprings,
            AirSuspension = steered == 1 && random.Chance(0.4),
        };
        var lifts = axles.Any(a => a.Lift is not null);
        var rear = new AxleGroup
        {
            Name = "rear",
            Axles = [.. Enumerable.Range(steered, axles.Count - steered)],
            Law = lifts ? random.Pick(ShareLaw.OneCircuit, ShareLaw.ControlLaw) : random.Pick(ShareLaw.OneCircuit, ShareLaw.Lever, ShareLaw.SeparateSprings),
        };
        rear = rear with { AirSuspension = rear.Law is ShareLaw.OneCircuit or ShareLaw.ControlLaw };
        var modes = SuspensionPlan.Modes(random, axles, front, rear);
        return new VehicleDescription
        {
            Id = id,
            Kind = kind,
            Axles = [.. axles],
            Front = front,
            Rear = rear,
            Modes = modes,
            Sensors = SensorPlan.On(random, axles, front, rear),
            Kerb = KerbPlan.Weigh(random, axles, modes[0], (front, sprung.Front), (rear, sprung.Rear)) with
            {
                ServiceAboard = Mass.FromKilograms(random.Pick(0, 75, 200)),
            },
            Service = new ServiceLoad { Position = Length.FromMetres(random.Between(0.3, 1.8)) },
            Registered = new RegisteredMasses { Gross = Mass.FromKilograms(gross), Combination = Mass.FromKilograms(44_000) },
            Drag = new AirDrag { AreaSquareMetres = random.Between(3.5, 6.0), Height = Length.FromMetres(random.Between(1.8, 2.2)) },
        };
    }

    private ImmutableArray<Fixture> Fixtures(double rear) => random.Chance(0.7) ? [] :
    [
        new Fixture
        {
            Name = "forklift",
            Mass = Mass.FromKilograms(random.Between(1800, 2600)),
            Position = Length.FromMetres(rear + 0.8),
            State = random.Pick(FixtureState.Unknown, FixtureState.On, FixtureState.Off),
            InKerbWeighing = random.Chance(0.2),
        },
    ];

    private static Coupling At(double x, double height) => new() { Position = Length.FromMetres(x), Height = Length.FromMetres(height) };
}
