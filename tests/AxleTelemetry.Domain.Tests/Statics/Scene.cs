using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Fleet;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Domain.Tests.Statics;

/// <summary>One random combination, configuration, payload and motion; everything follows from the seed.</summary>
internal sealed class Scene
{
    // Below this distance between its supports a body is a lever that turns any rounding into load. Dollies stand at 1.3 m.
    private const double LeastSupportDistance = 1.0;

    private const double GreatestCondition = 1e7;

    public Scene(ulong seed, Func<Combination, SeededRandom, Combination>? change = null)
    {
        Seed = seed;
        var random = new SeededRandom(seed);
        var traffic = new RandomTraffic(random);
        Combination = traffic.Combination();
        if (change is not null) Combination = change(Combination, random.Fork());
        Configuration = traffic.Configuration(Combination);
        State = traffic.Payload(Combination);
        Motion = traffic.Motion();
        Forced = Force(random);
        Model = new LoadModel(Combination);
        Truth = TrueCombination.AsDescribed(Combination);
    }

    public ulong Seed { get; }

    public Combination Combination { get; }

    public Configuration Configuration { get; }

    /// <summary>
    /// The configuration with anything done to it that equations allow: any axle held at its ceiling whether its load
    /// would put it there or not, and now and then any axle at all in the air.
    /// </summary>
    public Configuration Forced { get; }

    public double[] State { get; }

    public RoadMotion Motion { get; }

    public LoadModel Model { get; }

    public TrueCombination Truth { get; }

    public Motion DomainMotion => new(Motion.Slope, Motion.AirSpeed * Motion.AirSpeed, Motion.Rolling);

    /// <summary>All that stands on the road, kg, summed from the description alone.</summary>
    public double Gross
    {
        get
        {
            double sum = 0;
            foreach (var body in Combination.Bodies) sum += BodyMass(body);
            return sum;
        }
    }

    public double BodyMass(BodyPart body)
    {
        var vehicle = body.Vehicle;
        var mass = vehicle.Kerb.AxleLoads.Sum(m => m.Kilograms) + vehicle.Kerb.CouplingLoad.Kilograms
            - vehicle.Kerb.ServiceAboard.Kilograms + (vehicle.Service?.Mean.Kilograms ?? 0);
        foreach (var fixture in vehicle.Fixtures)
        {
            var aboard = fixture.State switch { FixtureState.On => 1.0, FixtureState.Off => 0.0, _ => 0.5 };
            mass += (aboard - (fixture.InKerbWeighing ? 1 : 0)) * fixture.Mass.Kilograms;
        }

        return body.StateIndex < 0 ? mass : mass + State[body.StateIndex];
    }

    /// <summary>Solves densely with the axles doing exactly as told; <c>null</c> where they cannot carry.</summary>
    public static TrueLoads? Dense(TrueCombination truth, Configuration configuration, ReadOnlySpan<double> state, RoadMotion motion) =>
        DenseStatics.Solve(truth, configuration, state, motion) is StaticsResult.Stands stands ? stands.Loads : null;

    /// <summary>True where rounding cannot matter: the bound within which both solvers have to agree.</summary>
    public bool WellConditioned(Configuration configuration) =>
        DenseStatics.Condition(Truth, configuration, Motion) < GreatestCondition && Combination.Bodies.All(b => SupportDistance(b, configuration) >= LeastSupportDistance);

    /// <summary>Every axle with wheels and rolling resistance of its own: radius 0.45 to 0.55 m, 4 to 7 N/kN.</summary>
    public static Combination WithOddTyres(Combination combination, SeededRandom random) => Drawn.Couple([.. combination.Vehicles.Select(v => v with
    {
        Axles = [.. v.Axles.Select(a => a with
        {
            Tyres = a.Tyres with { Radius = Length.FromMetres(random.Between(0.45, 0.55)), RollingResistance = random.Between(4, 7) },
        })],
    })]);

    private Configuration Force(SeededRandom random)
    {
        var forced = Configuration;
        foreach (var part in Combination.Axles)
            if (random.Chance(0.02))
                forced = forced.With(part.Index, AxleState.Raised);
        foreach (var part in Combination.Axles)
            if (part.Axle is { CeilingForce: not null, RegulatedForce: null } && forced[part.Index] == AxleState.Loaded && random.Chance(0.3))
                forced = forced with { AtCeiling = forced.AtCeiling | 1u << part.Index };
        return forced;
    }

    private static double SupportDistance(BodyPart body, Configuration configuration)
    {
        double Centre(AxleGroup group)
        {
            var mode = body.Vehicle.Modes[configuration.Mode(body.Index)];
            int[] axles = [.. group.Axles.Where(i => configuration[body.FirstAxle + i] == AxleState.Loaded
                && body.Vehicle.Axles[i].RegulatedForce is null && !configuration.IsAtCeiling(body.FirstAxle + i))];
            return axles.Sum(i => mode.Weights[i] * body.Vehicle.Axles[i].Position.Metres) / axles.Sum(i => mode.Weights[i]);
        }

        return Centre(body.Vehicle.Rear) - (body.Vehicle.Front is { } front ? Centre(front) : 0);
    }
}
