using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Simulator.Fleet;

/// <summary>Random trailers of every kind. Ranges of geometry and mass are common practice, without a source.</summary>
public sealed class RandomTrailers(SeededRandom random)
{
    /// <summary>A semi-trailer with one to three axles.</summary>
    public VehicleDescription Semi(string id)
    {
        var count = random.Whole(1, 3);
        var centre = count == 1 ? random.Between(6.0, 7.0) : random.Between(7.2, 8.2);
        var front = -random.Between(0.9, 1.6);
        var axles = Bogie(count, centre, lifts: true);
        var shell = new Shell(id, VehicleKind.SemiTrailer, axles, 0, random.Between(1000, 1500), random.Between(900, 1300) * count);
        return Assemble(shell, Space(front, centre + random.Between(2.5, 4.5), 8000.0 + 8500 * count)) with
        {
            FrontCoupling = Coupling(0, random.Between(1.05, 1.25)),
        };
    }

    /// <summary>A centre-axle trailer with one or two axles.</summary>
    public VehicleDescription CentreAxle(string id)
    {
        var count = random.Whole(1, 2);
        var centre = random.Between(4.5, 6.0);
        var shell = new Shell(id, VehicleKind.CentreAxleTrailer, Bogie(count, centre, lifts: count > 1), 0, random.Between(60, 250), random.Between(1100, 1700) * count);
        return Assemble(shell, Space(centre - random.Between(3.2, 4.0), centre + random.Between(2.6, 3.2), 7500.0 * count)) with
        {
            FrontCoupling = Coupling(0, random.Between(0.4, 0.95)),
        };
    }

    /// <summary>A drawbar trailer with a turntable axle in front and one or two axles behind.</summary>
    public VehicleDescription Drawbar(string id)
    {
        var turntable = random.Between(2.3, 3.0);
        var behind = random.Whole(1, 2);
        var centre = turntable + random.Between(4.3, 5.6);
        var axles = (List<Axle>)[AxlePlan.Trailer(random, 0, turntable), .. Bogie(behind, centre, lifts: behind > 1)];
        var shell = new Shell(id, VehicleKind.DrawbarTrailer, axles, 1, random.Between(1000, 1500), random.Between(900, 1500) * behind);
        return Assemble(shell, Space(turntable - 1, centre + random.Between(1.2, 2.0), 6500.0 * (behind + 1))) with
        {
            FrontCoupling = Coupling(0, random.Between(0.5, 0.95)),
        };
    }

    /// <summary>A dolly: a drawbar trailer of two close axles that carries nothing but a semi-trailer on its fifth wheel.</summary>
    public VehicleDescription Dolly(string id)
    {
        var first = random.Between(3.0, 4.2);
        var apart = random.Between(1.3, 1.8);
        var axles = (List<Axle>)[AxlePlan.Trailer(random, 0, first), AxlePlan.Trailer(random, 1, first + apart)];
        var shell = new Shell(id, VehicleKind.DrawbarTrailer, axles, 1, random.Between(300, 500), random.Between(300, 500));
        return Assemble(shell, null) with
        {
            FrontCoupling = Coupling(0, random.Between(0.5, 0.95)),
            RearCoupling = Coupling(first + apart * random.Between(0.35, 0.65), random.Between(1.05, 1.25)),
        };
    }

    /// <summary>A semi-trailer that draws another vehicle: by a fifth wheel over its bogie, or by a towing jaw at its rear.</summary>
    public VehicleDescription Leading(string id, bool fifthWheel)
    {
        var semi = Semi(id);
        var last = semi.Axles[^1].Position.Metres;
        return semi with
        {
            RearCoupling = fifthWheel ? Coupling(last - random.Between(0.2, 1.0), 1.2) : Coupling(last + random.Between(1.5, 3.0), 0.6),
        };
    }

    private sealed record Shell(string Id, VehicleKind Kind, List<Axle> Axles, int InFront, double FrontSprung, double RearSprung);

    private List<Axle> Bogie(int count, double centre, bool lifts)
    {
        var spread = random.Between(1.3, 1.4);
        var axles = Enumerable.Range(0, count).Select(i => AxlePlan.Trailer(random, i + 1, centre + spread * (i - (count - 1) / 2.0))).ToList();
        if (count > 1 && random.Chance(0.4)) axles[^1] = AxlePlan.Limited(random, axles[^1]);
        if (lifts && count > 1 && random.Chance(0.6)) axles[0] = AxlePlan.Lifting(random, axles[0]);
        if (lifts && count > 2 && random.Chance(0.3)) axles[^1] = AxlePlan.Lifting(random, axles[^1]);
        return axles;
    }

    private LoadSpace Space(double front, double rear, double permitted) => new()
    {
        Front = Length.FromMetres(front),
        Rear = Length.FromMetres(rear),
        Permitted = Mass.FromKilograms(Math.Round(permitted)),
        Height = Length.FromMetres(random.Between(1.5, 2.3)),
    };

    private VehicleDescription Assemble(Shell shell, LoadSpace? space)
    {
        var lifts = shell.Axles.Any(a => a.Lift is not null);
        var law = lifts || random.Chance(0.7) ? ShareLaw.OneCircuit : random.Pick(ShareLaw.SeparateSprings, ShareLaw.Lever);
        var front = shell.InFront == 0 ? null : new AxleGroup { Name = "front", Axles = [0], Law = law, AirSuspension = law == ShareLaw.OneCircuit };
        var rear = new AxleGroup
        {
            Name = "rear",
            Axles = [.. Enumerable.Range(shell.InFront, shell.Axles.Count - shell.InFront)],
            Law = law,
            AirSuspension = law == ShareLaw.OneCircuit,
        };
        var modes = SuspensionPlan.Modes(random, shell.Axles, front, rear);
        var kerb = KerbPlan.Weigh(random, shell.Axles, modes[0], (front, shell.FrontSprung), (rear, shell.RearSprung));
        return new VehicleDescription
        {
            Id = shell.Id,
            Kind = shell.Kind,
            Axles = [.. shell.Axles],
            Front = front,
            Rear = rear,
            Modes = modes,
            Sensors = SensorPlan.On(random, shell.Axles, front, rear),
            Kerb = front is null ? kerb with { CouplingLoad = Mass.FromKilograms(shell.FrontSprung) } : kerb,
            LoadSpace = space,
            Registered = new RegisteredMasses { Gross = Mass.FromKilograms(9000.0 * shell.Axles.Count + (front is null ? 12_000 : 0)) },
            Drag = new AirDrag { AreaSquareMetres = random.Between(0, 2.0) },
        };
    }

    private static Coupling Coupling(double x, double height) => new() { Position = Length.FromMetres(x), Height = Length.FromMetres(height) };
}
