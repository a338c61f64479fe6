using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Loads;

/// <summary>All considered errors of a combination, in a fixed order, with look-ups from the thing to its column.</summary>
public sealed class ErrorBudget
{
    /// <summary>Residual that an unloaded axle still carries: mean, kg. Common practice.</summary>
    public const double ResidualMean = 150;

    private const double ResidualSd = 100;
    private const double RegulatedRelativeSd = 0.03;

    /// <summary>Part of the air drag that is left as uncertainty after correction.</summary>
    public const double DragRelativeSd = 0.4;

    /// <summary>Columns of one sensor: gain, offset, leg, environment, other side, extrapolation.</summary>
    public const int ColumnsPerSensor = 6;

    private readonly int[] _unsprung;
    private readonly int[] _share;
    private readonly int[] _residual;
    private readonly int[] _regulated;
    private readonly int[] _kerbFront;
    private readonly int[] _service;
    private readonly int[] _coupling;
    private readonly int[][] _fixture;

    internal ErrorBudget(Combination combination)
    {
        var list = ImmutableArray.CreateBuilder<ConsideredError>();
        int Add(ConsideredKind kind, int body, int element, double sd)
        {
            list.Add(new ConsideredError(kind, body, element, sd));
            return list.Count - 1;
        }

        _unsprung = [.. combination.Axles.Select(a => Add(ConsideredKind.Unsprung, a.Body, a.Index, a.Axle.UnsprungSd.Kilograms))];
        _share = [.. combination.Axles.Select(_ => -1)];
        _residual = [.. combination.Axles.Select(a => a.Axle.Lift is null ? -1 : Add(ConsideredKind.Residual, a.Body, a.Index, ResidualSd))];
        _regulated = [.. combination.Axles.Select(a => (a.Axle.RegulatedForce ?? a.Axle.CeilingForce) is { } force
            ? Add(ConsideredKind.Regulated, a.Body, a.Index, force.Kilograms * RegulatedRelativeSd) : -1)];
        _kerbFront = new int[combination.Bodies.Length];
        _service = new int[combination.Bodies.Length];
        _coupling = new int[combination.Bodies.Length];
        _fixture = new int[combination.Bodies.Length][];
        foreach (var body in combination.Bodies)
        {
            var vehicle = body.Vehicle;
            // Half the variance at either support: the whole weighing then has the stated spread.
            var kerb = vehicle.Kerb.Sd.Kilograms / Math.Sqrt(2);
            _kerbFront[body.Index] = Add(ConsideredKind.KerbFront, body.Index, -1, kerb);
            Add(ConsideredKind.KerbRear, body.Index, -1, kerb);
            foreach (var group in new[] { vehicle.Front, vehicle.Rear })
                AddShares(body, group);
            _service[body.Index] = vehicle.Service is { } service ? Add(ConsideredKind.Service, body.Index, -1, service.Sd.Kilograms) : -1;
            _coupling[body.Index] = body.Index + 1 < combination.Bodies.Length && combination.Vehicles[body.Index + 1].Kind.RestsOnCoupling()
                ? Add(ConsideredKind.CouplingPosition, body.Index, -1, vehicle.RearCoupling!.Sd.Metres) : -1;
            _fixture[body.Index] = [.. vehicle.Fixtures.Select((f, i) => f.State == FixtureState.Unknown
                ? Add(ConsideredKind.Fixture, body.Index, i, f.Mass.Kilograms / 2) : -1)];
        }

        Drag = Add(ConsideredKind.Drag, -1, -1, DragRelativeSd);
        FirstSensorColumn = list.Count;
        foreach (var sensor in combination.Sensors)
        {
            Add(ConsideredKind.Gain, sensor.Body, sensor.Index, 1);
            Add(ConsideredKind.Offset, sensor.Body, sensor.Index, 1);
            Add(ConsideredKind.Leg, sensor.Body, sensor.Index, 1);
            Add(ConsideredKind.Environment, sensor.Body, sensor.Index, 1);
            Add(ConsideredKind.OtherSide, sensor.Body, sensor.Index, 1);
            Add(ConsideredKind.Extrapolation, sensor.Body, sensor.Index, 1);
        }

        Errors = list.ToImmutable();

        void AddShares(BodyPart body, AxleGroup? group)
        {
            if (group is null) return;
            var sharing = group.Axles.Count(a => vehicleAxle(body, a).RegulatedForce is null);
            if (sharing < 2) return;
            // Renormalising to sum 1 takes part of each error away; this puts the stated spread of a share back.
            var sd = group.Law.RelativeSd() * Math.Sqrt(sharing / (sharing - 1.0));
            foreach (var a in group.Axles.Where(a => vehicleAxle(body, a).RegulatedForce is null))
                _share[body.FirstAxle + a] = Add(ConsideredKind.Share, body.Index, body.FirstAxle + a, sd);
        }

        static Axle vehicleAxle(BodyPart body, int axle) => body.Vehicle.Axles[axle];
    }

    /// <summary>The errors, one per column.</summary>
    public ImmutableArray<ConsideredError> Errors { get; }

    /// <summary>Number of columns.</summary>
    public int Count => Errors.Length;

    /// <summary>Column of the air drag.</summary>
    public int Drag { get; }

    /// <summary>First of the columns that belong to sensors; those before it are of the vehicles.</summary>
    public int FirstSensorColumn { get; }

    /// <summary>First column of a sensor: gain; offset, leg, environment, other side, extrapolation follow.</summary>
    public int SensorColumn(int sensor) => FirstSensorColumn + sensor * ColumnsPerSensor;

    /// <summary>Column of an axle's unsprung mass.</summary>
    public int UnsprungColumn(int axle) => _unsprung[axle];

    /// <summary>Column of an axle's share, or -1 where it has none.</summary>
    public int ShareColumn(int axle) => _share[axle];

    /// <summary>Column of a powered unit's service load, or -1.</summary>
    public int ServiceColumn(int body) => _service[body];

    internal double Unsprung(int axle, ReadOnlySpan<double> deviations) => Deviation(_unsprung[axle], deviations);

    internal double Share(int axle, ReadOnlySpan<double> deviations) => Deviation(_share[axle], deviations);

    internal double Residual(int axle, ReadOnlySpan<double> deviations) => Deviation(_residual[axle], deviations);

    internal double Regulated(int axle, ReadOnlySpan<double> deviations) => Deviation(_regulated[axle], deviations);

    internal double KerbFront(int body, ReadOnlySpan<double> deviations) => Deviation(_kerbFront[body], deviations);

    internal double KerbRear(int body, ReadOnlySpan<double> deviations) => Deviation(_kerbFront[body] + 1, deviations);

    internal double Service(int body, ReadOnlySpan<double> deviations) => Deviation(_service[body], deviations);

    internal double CouplingPosition(int body, ReadOnlySpan<double> deviations) => Deviation(_coupling[body], deviations);

    internal double Fixture(int body, int fixture, ReadOnlySpan<double> deviations) => Deviation(_fixture[body][fixture], deviations);

    private double Deviation(int column, ReadOnlySpan<double> deviations) =>
        column < 0 || column >= deviations.Length ? 0 : deviations[column] * Errors[column].Sd;
}
