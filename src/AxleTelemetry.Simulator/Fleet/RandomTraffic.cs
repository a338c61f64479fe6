using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Fleet;

/// <summary>Random combinations, and what they carry, how their axles stand and what they feel.</summary>
public sealed class RandomTraffic(SeededRandom random)
{
    private readonly RandomPowered _powered = new(random);
    private readonly RandomTrailers _trailers = new(random);

    /// <summary>A combination of one to three vehicles, every kind of coupling among them.</summary>
    public Combination Combination()
    {
        VehicleDescription[] vehicles = random.Whole(0, 8) switch
        {
            0 => [_powered.Rigid("rigid")],
            1 => [Pulling(), _trailers.CentreAxle("centre")],
            2 => [Pulling(), _trailers.Drawbar("drawbar")],
            3 => [Pulling(), _trailers.Dolly("dolly"), _trailers.Semi("semi")],
            4 => [_powered.Tractor("tractor")],
            5 or 6 => [_powered.Tractor("tractor"), _trailers.Semi("semi")],
            7 => [_powered.Tractor("tractor"), _trailers.Leading("link", fifthWheel: true), _trailers.Semi("semi")],
            _ => [_powered.Tractor("tractor"), _trailers.Leading("link", fifthWheel: false), _trailers.CentreAxle("centre")],
        };
        return Domain.Vehicles.Combination.Couple(vehicles) switch
        {
            CouplingResult.Coupled coupled => coupled.Combination,
            CouplingResult.Impossible impossible => throw new InvalidOperationException(impossible.Reason),
            _ => throw new InvalidOperationException("Unknown outcome of coupling."),
        };
    }

    /// <summary>A configuration that lifts and controls could command, possible or not. No axle is held at its ceiling.</summary>
    public Configuration Configuration(Combination combination)
    {
        var configuration = default(Configuration);
        foreach (var part in combination.Axles)
        {
            if (part.Axle.Lift is not { } lift) continue;
            var states = lift.CanUnload ? (AxleState[])[AxleState.Loaded, AxleState.Unloaded, AxleState.Raised] : [AxleState.Loaded, AxleState.Raised];
            configuration = configuration.With(part.Index, random.Pick<AxleState>(states));
        }

        foreach (var body in combination.Bodies)
            configuration = configuration.WithMode(body.Index, random.Whole(0, body.Vehicle.Modes.Length - 1));
        return configuration;
    }

    /// <summary>A payload state: from nothing to a tenth more than permitted, its centre in the middle half of the load space.</summary>
    public double[] Payload(Combination combination)
    {
        var state = new double[combination.StateSize];
        foreach (var body in combination.Bodies)
        {
            if (body.Vehicle.LoadSpace is not { } space) continue;
            var mass = random.Chance(0.1) ? 0 : random.Between(0, 1.1) * space.Permitted.Kilograms;
            var length = space.Rear.Metres - space.Front.Metres;
            state[body.StateIndex] = mass;
            state[body.StateIndex + 1] = mass * (space.Front.Metres + length * random.Between(0.25, 0.75));
        }

        return state;
    }

    /// <summary>Anything between braking gently downhill and pulling up a steep climb, at up to 25 m/s.</summary>
    public RoadMotion Motion() => new(random.Between(-0.1, 0.1), random.Between(0, 25), Rolling: true);

    private VehicleDescription Pulling()
    {
        while (true)
            if (_powered.Rigid("rigid") is { RearCoupling: not null } rigid)
                return rigid;
    }
}
