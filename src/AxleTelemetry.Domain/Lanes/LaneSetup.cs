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
    private readonly Judged?[] _byStack;
    private readonly EqualMargins _margins;
    private readonly int _home;

    /// <summary>Prepares a combination.</summary>
    /// <param name="combination">The vehicles.</param>
    /// <param name="fits">Calibration of each sensor, counted through the combination.</param>
    /// <param name="margins">The limits that hold in a configuration, in the order of their keys.</param>
    public LaneSetup(Combination combination, ImmutableArray<CircuitFit> fits, Func<Configuration, ImmutableArray<Margin>> margins)
        : this(combination, fits, LaneLaw.Everywhere(margins))
    {
    }

    /// <summary>Prepares a combination.</summary>
    /// <param name="combination">The vehicles.</param>
    /// <param name="fits">Calibration of each sensor, counted through the combination.</param>
    /// <param name="law">The limits, by place.</param>
    /// <param name="catalogs">Where equal catalogs are shared; <c>null</c>: this one has its own.</param>
    public LaneSetup(Combination combination, ImmutableArray<CircuitFit> fits, LaneLaw law, FindingCatalogs? catalogs = null)
    {
        Combination = combination;
        Model = new LoadModel(combination);
        Estimator = new Estimator(Model, [.. combination.Sensors.Select(s => new Circuit(s, fits[s.Index]))]);
        Law = law;
        HasStandIn = combination.Vehicles.Any(v => v.IsStandIn);
        var catalog = new FindingCatalog(combination, law.Keys(Model, IsJudged));
        Catalog = catalogs is null ? catalog : catalogs.Of(catalog);
        _byStack = new Judged?[law.Stacks];
        _margins = new EqualMargins();
        Liftable = combination.Liftable;
        HasCeiling = combination.Axles.Any(a => a.Axle.CeilingForce is not null);
        _oneSided = new OneSidedRule(this);
    }

    private LaneSetup(LaneSetup of, int home)
    {
        (Combination, Model, Estimator, Law, Catalog, Liftable, HasCeiling, Terms) = (of.Combination, of.Model, of.Estimator, of.Law, of.Catalog, of.Liftable, of.HasCeiling, of.Terms);
        (_byStack, _margins, _oneSided, _home) = (of._byStack, of._margins, of._oneSided, home);
    }

    /// <summary>The same, with the limits of a place at <see cref="Table"/> and <see cref="Remedies"/>: for whoever plans there. A lane goes by the number of its place.</summary>
    /// <param name="stack">Number of what holds there.</param>
    public LaneSetup For(int stack) => stack == _home ? this : new(this, stack);

    /// <summary>Prepares a combination whose sensors are calibrated by their handbook alone.</summary>
    public static LaneSetup FromHandbook(Combination combination, Func<Configuration, ImmutableArray<Margin>> margins) =>
        new(combination, [.. combination.Sensors.Select(s => s.Sensor.Handbook)], margins);

    /// <summary>The vehicles.</summary>
    public Combination Combination { get; }

    /// <summary>Their statics.</summary>
    public LoadModel Model { get; }

    /// <summary>The inference.</summary>
    public Estimator Estimator { get; }

    /// <summary>Which limits hold where.</summary>
    public LaneLaw Law { get; }

    /// <summary>The limits where no country is known, or of the place that was asked for.</summary>
    public JudgeTable Table => TableAt(_home);

    /// <summary>What can be found.</summary>
    public FindingCatalog Catalog { get; }

    /// <summary>Bit per axle: those that a lift can raise.</summary>
    public uint Liftable { get; }

    /// <summary>True where a valve may hold an axle at a ceiling.</summary>
    internal bool HasCeiling { get; }

    /// <summary>True where a stated default stands in the place of a trailer that nobody described.</summary>
    public bool HasStandIn { get; }

    /// <summary>By what running cost is reckoned.</summary>
    public RunningTerms Terms { get; init; } = RunningTerms.Unpriced;

    /// <summary>What can be done where no country is known, or in the place that was asked for.</summary>
    public RemedySolver Remedies => RemediesAt(_home);

    /// <summary>The limits by one of the stacks of tables; prepared when first needed.</summary>
    public JudgeTable TableAt(int stack) => At(stack).Table;

    /// <summary>What can be done by one of the stacks of tables.</summary>
    public RemedySolver RemediesAt(int stack) => At(stack).Remedies;

    /// <summary>Highest level that a limit of a body (-1: of the combination) may reach: what rests on a circuit that feels one side only is never sure.</summary>
    public Level MostSure(int body) => _oneSided.Touches(body) ? Level.Likely : Level.Surely;

    // Two who ask at once may prepare the same twice: either is as good.
    private Judged At(int stack) => _byStack[stack] ??= Prepare(stack);

    private Judged Prepare(int stack)
    {
        var table = new JudgeTable(Model, configuration => _margins.Of(Judgeable(Law.Margins(stack, configuration))), Catalog.Margins);
        return new Judged(table, new RemedySolver(table, Estimator));
    }

    private ImmutableArray<Margin> Judgeable(ImmutableArray<Margin> margins) => HasStandIn ? [.. margins.Where(IsJudged)] : margins;

    /// <summary>Neither the axles of a stand-in nor their number are known: what weighs any of them is no limit of anything real.</summary>
    private bool IsJudged(Margin margin) => !HasStandIn
        || (margin.Key.Body < 0 || !Combination.Vehicles[margin.Key.Body].IsStandIn)
        && Combination.Axles.All(a => margin.Weights[a.Index] == 0 || !Combination.Vehicles[a.Body].IsStandIn);

    private sealed record Judged(JudgeTable Table, RemedySolver Remedies);
}
