using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Simulator.Statics;

/// <summary>
/// The equations of <see cref="DenseStatics"/>. Unknowns: the load on every axle; the vertical, then the horizontal force
/// at every coupling; one factor for every group, by which its axles' weights are multiplied.
/// </summary>
internal sealed class BalanceEquations
{
    private readonly TrueCombination _truth;
    private readonly Configuration _configuration;
    private readonly RoadMotion _motion;
    private readonly LinearSystem _system;
    private readonly int _axles;
    private readonly int _couplings;
    // Per axle: unknown of its group's factor, its weight and its constant part.
    private readonly (int Factor, double Weight, double Constant)[] _byShare;
    private int _equation;
    private int _factor;

    public BalanceEquations(TrueCombination truth, Configuration configuration, ReadOnlySpan<double> state, RoadMotion motion)
    {
        _truth = truth;
        _configuration = configuration;
        _motion = motion;
        _axles = truth.Described.Axles.Length;
        _couplings = truth.Described.Couplings;
        _factor = _axles + 2 * _couplings;
        _system = new LinearSystem(_factor + truth.Vehicles.Sum(v => v.Description.Front is null ? 1 : 2));
        _byShare = new (int, double, double)[_axles];
        foreach (var body in truth.Described.Bodies)
        {
            var at = body.StateIndex;
            var masses = PointMass.Of(truth.Vehicles[body.Index], at < 0 ? 0 : state[at], at < 0 ? 0 : state[at + 1]).ToList();
            Balance(body, masses);
            if (body.Index > 0) Coupling(body, masses);
            if (body.Vehicle.Front is { } front) Group(body, front);
            Group(body, body.Vehicle.Rear);
        }
    }

    /// <summary>Solves; <c>null</c> where the equations do not settle every force.</summary>
    public TrueLoads? Solve()
    {
        if (_system.Solve() is not { } x) return null;
        return new TrueLoads
        {
            Configuration = _configuration,
            Axles = [.. x.Take(_axles)],
            Sprung = [.. _truth.Described.Axles.Select(a => _configuration[a.Index] == AxleState.Raised ? 0 : x[a.Index] - Unsprung(a))],
            ByShare = [.. _byShare.Select(s => s.Weight * x[s.Factor] + s.Constant)],
            Couplings = [.. x.Skip(_axles).Take(_couplings)],
            Pulls = [.. x.Skip(_axles + _couplings).Take(_couplings)],
        };
    }

    /// <summary>Condition number of the equations (1-norm, kg and m).</summary>
    public double Condition() => _system.Condition();

    private double Unsprung(AxlePart axle) =>
        _truth.Vehicles[axle.Body].Unsprung[axle.Index - _truth.Described.Bodies[axle.Body].FirstAxle];

    private int Vertical(int body) => _axles + body - 1;

    private int Horizontal(int body) => _axles + _couplings + body - 1;

    /// <summary>What presses down on a body equals what holds it up, in force and in moment about its origin at road height.</summary>
    private void Balance(BodyPart body, List<PointMass> masses)
    {
        int force = _equation++, moment = _equation++;
        var vehicle = body.Vehicle;
        for (var i = 0; i < vehicle.Axles.Length; i++)
        {
            _system[force, body.FirstAxle + i] = 1;
            _system[moment, body.FirstAxle + i] = vehicle.Axles[i].Position.Metres;
        }

        if (body.Index > 0)
        {
            _system[force, Vertical(body.Index)] = 1;
            _system[moment, Vertical(body.Index)] = vehicle.FrontCoupling!.Position.Metres;
            _system[moment, Horizontal(body.Index)] = vehicle.FrontCoupling.Height.Metres;
        }

        if (body.Index < _couplings)
        {
            _system[force, Vertical(body.Index + 1)] = -1;
            _system[moment, Vertical(body.Index + 1)] = -_truth.Vehicles[body.Index].RearCoupling;
            _system[moment, Horizontal(body.Index + 1)] = -vehicle.RearCoupling!.Height.Metres;
        }

        _system.Right(force) = masses.Sum(m => m.Kilograms);
        _system.Right(moment) = masses.Sum(m => m.Moment + _motion.Slope * m.Kilograms * m.Height) + vehicle.Drag.Height.Metres * Drag(body);
    }

    /// <summary>A trailer is drawn by the force that grade, inertia, air and its wheels hold against it, and what hangs behind it.</summary>
    private void Coupling(BodyPart body, List<PointMass> masses)
    {
        var pull = _equation++;
        _system[pull, Horizontal(body.Index)] = 1;
        if (body.Index < _couplings) _system[pull, Horizontal(body.Index + 1)] = -1;
        if (_motion.Rolling)
            for (var i = 0; i < body.Vehicle.Axles.Length; i++)
                _system[pull, body.FirstAxle + i] = -body.Vehicle.Axles[i].Tyres.RollingResistance / 1000;
        _system.Right(pull) = _motion.Slope * masses.Sum(m => m.Kilograms) + Drag(body);

        // A drawbar that swings up and down carries nothing.
        if (!body.Vehicle.Kind.RestsOnCoupling()) _system[_equation++, Vertical(body.Index)] = 1;
    }

    private double Drag(BodyPart body) => _truth.Vehicles[body.Index].DragFactor * _motion.Drag(body.Vehicle.Drag.AreaSquareMetres);

    /// <summary>One equation for each axle of a group, by what it is doing.</summary>
    private void Group(BodyPart body, AxleGroup group)
    {
        var truth = _truth.Vehicles[body.Index];
        var mode = body.Vehicle.Modes[_configuration.Mode(body.Index)];
        var factor = _factor++;
        foreach (var i in group.Axles)
        {
            int axle = body.FirstAxle + i, equation = _equation++;
            var weight = mode.Weights[i] * truth.ShareFactors[i];
            _byShare[axle] = (factor, weight, mode.OffsetKilograms[i]);
            _system[equation, axle] = 1;
            if (_configuration[axle] == AxleState.Raised) continue;
            _system.Right(equation) = truth.Unsprung[i];
            if (_configuration[axle] == AxleState.Unloaded) _system.Right(equation) += truth.Residuals[i];
            else if (body.Vehicle.Axles[i].RegulatedForce is not null || _configuration.IsAtCeiling(axle)) _system.Right(equation) += truth.Forces[i];
            else
            {
                _system[equation, factor] = -weight;
                _system.Right(equation) += mode.OffsetKilograms[i];
            }
        }
    }
}
