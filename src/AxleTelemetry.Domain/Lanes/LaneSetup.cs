using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>Everything a lane needs that does not change while it runs: descriptions, calibrations, limits. Immutable.</summary>
public sealed class LaneSetup
{
    private readonly OneSidedRule _oneSided;

    /// <summary>Prepares a combination.</summary>
    /// <param name="combination">The vehicles.</param>
    /// <param name="fits">Calibration of each sensor, counted through the combination.</param>
    /// <param name="margins">The limits that hold in a configuration, in the order of their keys.</param>
    public LaneSetup(Combination combination, ImmutableArray<CircuitFit> fits, Func<Configuration, ImmutableArray<Margin>> margins)
    {
        Combination = combination;
        Model = new LoadModel(combination);
        Estimator = new Estimator(Model, [.. combination.Sensors.Select(s => new Circuit(s, fits[s.Index]))]);
        Table = new JudgeTable(Model, margins);
        Catalog = new FindingCatalog(combination, Table.Keys);
        Remedies = new RemedySolver(Table, Estimator);
        Liftable = combination.Liftable;
        HasCeiling = combination.Axles.Any(a => a.Axle.CeilingForce is not null);
        _oneSided = new OneSidedRule(this);
    }

    /// <summary>Prepares a combination whose sensors are calibrated by their handbook alone.</summary>
    public static LaneSetup FromHandbook(Combination combination, Func<Configuration, ImmutableArray<Margin>> margins) =>
        new(combination, [.. combination.Sensors.Select(s => s.Sensor.Handbook)], margins);

    /// <summary>The vehicles.</summary>
    public Combination Combination { get; }

    /// <summary>Their statics.</summary>
    public LoadModel Model { get; }

    /// <summary>The inference.</summary>
    public Estimator Estimator { get; }

    /// <summary>The limits.</summary>
    public JudgeTable Table { get; }

    /// <summary>What can be found.</summary>
    public FindingCatalog Catalog { get; }

    /// <summary>Bit per axle: those that a lift can raise.</summary>
    public uint Liftable { get; }

    /// <summary>True where a valve may hold an axle at a ceiling.</summary>
    internal bool HasCeiling { get; }

    /// <summary>By what running cost is reckoned.</summary>
    public RunningTerms Terms { get; init; } = RunningTerms.Unpriced;

    /// <summary>What can be done.</summary>
    public RemedySolver Remedies { get; }

    /// <summary>Highest level that a limit of a body (-1: of the combination) may reach: what rests on a circuit that feels one side only is never sure.</summary>
    public Level MostSure(int body) => _oneSided.Touches(body) ? Level.Likely : Level.Surely;
}
