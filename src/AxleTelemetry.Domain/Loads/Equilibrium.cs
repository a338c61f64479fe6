using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Loads;

/// <summary>
/// Statics of a combination: what every axle and coupling carries for one payload state. Bodies are solved from the last
/// trailer forward, each on its two supports; the result is affine in the payload.
/// </summary>
internal sealed class Equilibrium(Combination combination, ErrorBudget budget)
{
    /// <summary>
    /// Solves. <paramref name="loads"/> receives axle loads, then coupling loads, kg. False where a support has no loaded axle.
    /// </summary>
    /// <param name="configuration">What every axle is doing.</param>
    /// <param name="deviations">Considered errors in standard deviations; may be shorter than the budget, the rest is zero.</param>
    /// <param name="motion">What the combination feels.</param>
    /// <param name="state">Payload mass and moment of each body that carries.</param>
    /// <param name="loads">Receives the result.</param>
    public bool Solve(in Configuration configuration, ReadOnlySpan<double> deviations, in Motion motion, ReadOnlySpan<double> state, Span<double> loads)
    {
        double below = 0, pull = 0;
        for (var b = combination.Bodies.Length - 1; b >= 0; b--)
        {
            var body = combination.Bodies[b];
            var sum = Weigh(body, configuration, deviations, state, below);
            Feel(body, motion, ref sum, pull);
            if (!Rest(body, configuration, deviations, motion, ref sum, loads)) return false;
            below = sum.Coupling;
            pull = sum.Pull;
            if (b > 0) loads[combination.CouplingRow(b)] = below;
        }

        return true;
    }

    /// <summary>What one body weighs on its supports: sums that the two balances need.</summary>
    private struct Sums
    {
        /// <summary>Mass that the supports carry, kg, and its moment about the origin, kg m.</summary>
        public double Carried, Moment;

        /// <summary>Sprung kerb mass and service load, all unsprung mass, payload, kg: what inertia and grade act on.</summary>
        public double Sprung, Unsprung, Payload;

        /// <summary>Load that this body puts on the coupling ahead, and the horizontal force there, kg.</summary>
        public double Coupling, Pull;

        /// <summary>Forces taken off by unloaded, regulated and ceiling-held axles, kg.</summary>
        public double Applied;
    }

    private Sums Weigh(BodyPart body, in Configuration configuration, ReadOnlySpan<double> deviations, ReadOnlySpan<double> state, double behind)
    {
        var vehicle = body.Vehicle;
        var kerb = vehicle.Kerb;
        var sums = default(Sums);
        // The origin of a body that rests on a coupling is that coupling: its kerb load has no moment.
        double mass = kerb.CouplingLoad.Kilograms - kerb.ServiceAboard.Kilograms, moment = 0;
        if (vehicle.Service is { } aboard) moment -= kerb.ServiceAboard.Kilograms * aboard.Position.Metres;
        double raised = 0, raisedMoment = 0;
        for (var i = 0; i < vehicle.Axles.Length; i++)
        {
            var axle = vehicle.Axles[i];
            var unsprung = axle.Unsprung.Kilograms + budget.Unsprung(body.FirstAxle + i, deviations);
            mass += kerb.AxleLoads[i].Kilograms - unsprung;
            moment += (kerb.AxleLoads[i].Kilograms - unsprung) * axle.Position.Metres;
            sums.Unsprung += unsprung;
            if (configuration[body.FirstAxle + i] != AxleState.Raised) continue;
            raised += unsprung;
            raisedMoment += unsprung * axle.Position.Metres;
        }

        AddKerbError(body, deviations, ref mass, ref moment);
        AddService(body, deviations, ref mass, ref moment);
        sums.Sprung = mass;
        sums.Carried = mass + raised;
        sums.Moment = moment + raisedMoment;
        if (body.StateIndex >= 0)
        {
            sums.Payload = state[body.StateIndex];
            sums.Carried += sums.Payload;
            sums.Moment += state[body.StateIndex + 1];
        }

        if (vehicle.RearCoupling is { } coupling)
        {
            sums.Carried += behind;
            sums.Moment += behind * (coupling.Position.Metres + budget.CouplingPosition(body.Index, deviations));
        }

        return sums;
    }

    private void AddKerbError(BodyPart body, ReadOnlySpan<double> deviations, ref double mass, ref double moment)
    {
        var front = budget.KerbFront(body.Index, deviations);
        var rear = budget.KerbRear(body.Index, deviations);
        mass += front + rear;
        moment += front * MiddleOf(body.Vehicle, body.Vehicle.Front) + rear * MiddleOf(body.Vehicle, body.Vehicle.Rear);
    }

    private void AddService(BodyPart body, ReadOnlySpan<double> deviations, ref double mass, ref double moment)
    {
        var vehicle = body.Vehicle;
        if (vehicle.Service is { } service)
        {
            var kilograms = service.Mean.Kilograms + budget.Service(body.Index, deviations);
            mass += kilograms;
            moment += kilograms * service.Position.Metres;
        }

        for (var i = 0; i < vehicle.Fixtures.Length; i++)
        {
            var fixture = vehicle.Fixtures[i];
            var aboard = fixture.State switch { FixtureState.On => 1.0, FixtureState.Off => 0.0, _ => 0.5 };
            var kilograms = (aboard - (fixture.InKerbWeighing ? 1 : 0)) * fixture.Mass.Kilograms + budget.Fixture(body.Index, i, deviations);
            mass += kilograms;
            moment += kilograms * fixture.Position.Metres;
        }
    }

    /// <summary>Acceleration, grade, drag and the pull of what hangs behind: they turn the body about its supports.</summary>
    private static void Feel(BodyPart body, in Motion motion, ref Sums sums, double pullBehind)
    {
        var vehicle = body.Vehicle;
        var wheels = vehicle.Axles[0].Tyres.Radius.Metres;
        var drag = 0.5 * Motion.AirDensity * vehicle.Drag.AreaSquareMetres * motion.SpeedSquared / Motion.Gravity;
        sums.Moment += motion.Slope * (vehicle.Kerb.Height.Metres * sums.Sprung + wheels * sums.Unsprung
            + (vehicle.LoadSpace?.Height.Metres ?? 0) * sums.Payload);
        sums.Moment += vehicle.Drag.Height.Metres * drag;
        if (vehicle.RearCoupling is { } rear) sums.Moment += rear.Height.Metres * pullBehind;
        sums.Pull = pullBehind + motion.Slope * (sums.Sprung + sums.Unsprung + sums.Payload) + drag;
    }

    private bool Rest(BodyPart body, in Configuration configuration, ReadOnlySpan<double> deviations, in Motion motion, ref Sums sums, Span<double> loads)
    {
        var vehicle = body.Vehicle;
        TakeAppliedForces(body, configuration, deviations, ref sums, loads);
        var mode = vehicle.Modes[Math.Min(configuration.Mode(body.Index), vehicle.Modes.Length - 1)];
        var rear = Support(body, vehicle.Rear, configuration, deviations, mode);
        if (rear.Weight <= 0) return false;
        var front = vehicle.Front is null ? default : Support(body, vehicle.Front, configuration, deviations, mode);
        if (vehicle.Front is not null && front.Weight <= 0) return false;

        double xF = front.Weight > 0 ? front.Moment / front.Weight : 0, xG = rear.Moment / rear.Weight;
        // Constant parts of the shares shift moment between the axles of a group.
        sums.Moment -= front.OffsetMoment - front.Offset * xF + rear.OffsetMoment - rear.Offset * xG;
        var rrc = motion.Rolling ? vehicle.Axles[0].Tyres.RollingResistance / 1000 : 0;
        var pull = sums.Pull + rrc * (sums.Carried + sums.Applied + UnsprungOnRoad(body, configuration, deviations));
        double onFront, onRear;
        if (vehicle.Front is null)
        {
            // Rolling resistance acts on what the trailer's own axles carry, which itself depends on the pull: one linear equation.
            var height = vehicle.FrontCoupling!.Height.Metres;
            var lever = height / (xG - xF);
            onFront = (sums.Carried - (sums.Moment - xF * sums.Carried) / (xG - xF) + lever * pull) / (1 + lever * rrc);
            onRear = sums.Carried - onFront;
            sums.Pull = pull - rrc * onFront;
        }
        else
        {
            var pulled = vehicle.FrontCoupling is { } coupling ? coupling.Height.Metres * pull : 0;
            sums.Pull = pull;
            onRear = (sums.Moment - pulled - xF * sums.Carried) / (xG - xF);
            onFront = sums.Carried - onRear;
            Share(body, vehicle.Front, configuration, deviations, mode, onFront, front, loads);
        }

        sums.Coupling = vehicle.Front is null ? onFront : 0;
        Share(body, vehicle.Rear, configuration, deviations, mode, onRear, rear, loads);
        return true;
    }

    /// <summary>Raised axles carry nothing; unloaded, regulated and ceiling-held ones push with a force of their own.</summary>
    private void TakeAppliedForces(BodyPart body, in Configuration configuration, ReadOnlySpan<double> deviations, ref Sums sums, Span<double> loads)
    {
        for (var i = 0; i < body.Vehicle.Axles.Length; i++)
        {
            var a = body.FirstAxle + i;
            if (configuration[a] == AxleState.Raised)
            {
                loads[a] = 0;
                continue;
            }

            var axle = body.Vehicle.Axles[i];
            if (AppliedForce(axle, a, configuration, deviations) is not { } force) continue;
            sums.Carried -= force;
            sums.Applied += force;
            sums.Moment -= force * axle.Position.Metres;
            loads[a] = force + axle.Unsprung.Kilograms + budget.Unsprung(a, deviations);
        }
    }

    private double? AppliedForce(Axle axle, int index, in Configuration configuration, ReadOnlySpan<double> deviations)
    {
        if (configuration[index] == AxleState.Unloaded) return ErrorBudget.ResidualMean + budget.Residual(index, deviations);
        if (axle.RegulatedForce is { } regulated) return regulated.Kilograms + budget.Regulated(index, deviations);
        if (configuration.IsAtCeiling(index) && axle.CeilingForce is { } ceiling) return ceiling.Kilograms + budget.Regulated(index, deviations);
        return null;
    }

    /// <summary>Sums over the axles of a group that take a share.</summary>
    private struct Sharing
    {
        public double Weight, Moment, Offset, OffsetMoment;
    }

    private Sharing Support(BodyPart body, AxleGroup group, in Configuration configuration, ReadOnlySpan<double> deviations, SuspensionMode mode)
    {
        var sum = default(Sharing);
        foreach (var i in group.Axles)
        {
            if (!Shares(body, i, configuration)) continue;
            var weight = mode.Weights[i] * (1 + budget.Share(body.FirstAxle + i, deviations));
            var x = body.Vehicle.Axles[i].Position.Metres;
            sum.Weight += weight;
            sum.Moment += weight * x;
            sum.Offset += mode.OffsetKilograms[i];
            sum.OffsetMoment += mode.OffsetKilograms[i] * x;
        }

        return sum;
    }

    private void Share(BodyPart body, AxleGroup group, in Configuration configuration, ReadOnlySpan<double> deviations, SuspensionMode mode, double load, in Sharing sum, Span<double> loads)
    {
        foreach (var i in group.Axles)
        {
            if (!Shares(body, i, configuration)) continue;
            var a = body.FirstAxle + i;
            var share = mode.Weights[i] * (1 + budget.Share(a, deviations)) / sum.Weight;
            // Offsets sum to zero over the axles that are loaded, whichever those are.
            loads[a] = share * (load - sum.Offset) + mode.OffsetKilograms[i]
                + body.Vehicle.Axles[i].Unsprung.Kilograms + budget.Unsprung(a, deviations);
        }
    }

    /// <summary>True for an axle that takes part in its group's balance.</summary>
    internal static bool Shares(BodyPart body, int axle, in Configuration configuration)
    {
        var a = body.FirstAxle + axle;
        return configuration[a] == AxleState.Loaded && body.Vehicle.Axles[axle].RegulatedForce is null && !configuration.IsAtCeiling(a);
    }

    private double UnsprungOnRoad(BodyPart body, in Configuration configuration, ReadOnlySpan<double> deviations)
    {
        double sum = 0;
        for (var i = 0; i < body.Vehicle.Axles.Length; i++)
            if (configuration[body.FirstAxle + i] != AxleState.Raised)
                sum += body.Vehicle.Axles[i].Unsprung.Kilograms + budget.Unsprung(body.FirstAxle + i, deviations);
        return sum;
    }

    private static double MiddleOf(VehicleDescription vehicle, AxleGroup? group)
    {
        if (group is null) return 0;
        double sum = 0;
        foreach (var i in group.Axles) sum += vehicle.Axles[i].Position.Metres;
        return sum / group.Axles.Length;
    }
}
