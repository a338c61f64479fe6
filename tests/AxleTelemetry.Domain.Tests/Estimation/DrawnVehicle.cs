using System.Collections.Immutable;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Domain.Tests.Estimation;

/// <summary>
/// A combination whose true errors are drawn once from the budget that the estimator considers, and whose loads and
/// pressures come from the independent dense solve.
/// </summary>
internal sealed class DrawnVehicle
{
    private readonly Estimator _estimator;
    private readonly SeededRandom _random;
    private readonly TrueCombination _truth;
    private readonly SensorTruth[] _sensors;
    private readonly double[] _leg;
    private readonly double[] _environment;

    public DrawnVehicle(Estimator estimator, SeededRandom random)
    {
        _estimator = estimator;
        _random = random;
        var combination = estimator.Model.Combination;
        _truth = TrueCombination.AsDescribed(combination);
        foreach (var error in estimator.Model.Budget.Errors.Take(estimator.Model.Budget.FirstSensorColumn))
            _truth = Disturbance.Apply(_truth, error, random.Normal(error.Sd));
        _sensors = [.. estimator.Circuits.Select(Draw)];
        _leg = new double[_sensors.Length];
        _environment = new double[_sensors.Length];
        State = new double[combination.StateSize];
        NewLeg();
        NewLoad();
    }

    /// <summary>True payload state.</summary>
    public double[] State { get; }

    /// <summary>Another payload at another place, both as the load space says.</summary>
    public void NewLoad()
    {
        foreach (var body in _estimator.Model.Combination.Bodies.Where(b => b.StateIndex >= 0))
        {
            var space = body.Vehicle.LoadSpace!;
            var mass = _random.Between(0.1, 1.1) * space.Permitted.Kilograms;
            State[body.StateIndex] = mass;
            State[body.StateIndex + 1] = mass * PayloadPlace.Centre(body.Vehicle, mass) + _random.Normal(PayloadPlace.Sd(body.Vehicle, mass) * Math.Max(mass, 500));
        }
    }

    /// <summary>Another stretch of road.</summary>
    public void NewLeg()
    {
        for (var s = 0; s < _sensors.Length; s++)
        {
            _leg[s] = _random.Normal(Estimator.LegRelativeSd);
            _environment[s] = _random.Normal(PressureSd);
        }
    }

    public const double PressureSd = 2;

    public const double NoiseSd = 90;

    /// <summary>True loads at rest.</summary>
    public TrueLoads Loads(Configuration configuration) =>
        DenseStatics.Solve(_truth, configuration, State, default) is StaticsResult.Stands stands
            ? stands.Loads : throw new InvalidOperationException("The drawn vehicle falls.");

    /// <summary>One settled reading of every circuit that carries.</summary>
    public CircuitReading[] Read(TrueLoads loads)
    {
        var readings = new List<CircuitReading>();
        foreach (var circuit in _estimator.Circuits)
        {
            var s = circuit.Part.Index;
            if (!circuit.Part.Axles.Any(a => loads.Configuration[a] == AxleState.Loaded)) continue;
            var axle = circuit.Part.Axles.First(a => loads.Configuration[a] == AxleState.Loaded);
            var vehicle = _truth.Described.Vehicles[circuit.Part.Body];
            var first = _truth.Described.Bodies[circuit.Part.Body].FirstAxle;
            // Calibrated at the reference axle; one pressure acts on all, each axle's bellows by their own true area.
            double Share(int axle) => vehicle.Modes[0].Weights[axle - first] * _truth.Vehicles[circuit.Part.Body].ShareFactors[axle - first];
            var sprung = loads.Sprung[axle] * Share(circuit.Part.Axles[0]) / Share(axle);
            var felt = sprung * (1 + _leg[s]) + _random.Normal(NoiseSd);
            var pressure = (felt - _sensors[s].OffsetKilograms) / _sensors[s].KilogramsPerKilopascal + _environment[s];
            readings.Add(new CircuitReading(s, pressure, NoiseSd * NoiseSd, PressureSd));
        }

        return [.. readings];
    }

    private SensorTruth Draw(Circuit circuit)
    {
        var fit = circuit.Fit;
        double gain = _random.Normal(1), offset = _random.Normal(1);
        var l11 = Math.Sqrt(fit.GainVariance);
        var l21 = fit.Covariance / l11;
        var l22 = Math.Sqrt(fit.OffsetVariance - l21 * l21);
        return new SensorTruth(fit.OffsetKilograms + l21 * gain + l22 * offset, fit.KilogramsPerKilopascal + l11 * gain);
    }
}
