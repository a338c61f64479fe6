using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Hauling;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Days;

/// <summary>Coupled vehicles as they stand at one moment of a day: loads, lifts, and what follows from them.</summary>
internal sealed class Rig
{
    private RoadLoads? _from;
    private double _part = 1;

    public Rig(ImmutableArray<FleetVehicle> vehicles, double? service)
    {
        Vehicles = vehicles;
        var truth = new TrueCombination(Coupled(vehicles), [.. vehicles.Select(v => v.Truth)]);
        Truth = service is { } kilograms ? truth.With(0, v => v with { Service = kilograms }) : truth;
        Payload = new double[Described.StateSize];
        Ids = [.. vehicles.Select(v => v.Id)];
        Loads = Stood();
    }

    public ImmutableArray<FleetVehicle> Vehicles { get; }

    public ImmutableArray<string> Ids { get; }

    public TrueCombination Truth { get; private set; }

    public Combination Described => Truth.Described;

    public Configuration Configuration { get; private set; }

    /// <summary>Mass in kg and moment in kg m of each body that carries, as it is when a change is done.</summary>
    public double[] Payload { get; }

    /// <summary>What is carried when a change of payload is done.</summary>
    public RoadLoads Loads { get; private set; }

    public ImmutableArray<CircuitFeel> Feels { get; private set; }

    /// <summary>Sprung load of an axle at this moment, kg.</summary>
    public double Sprung(int axle, in RoadMotion motion)
    {
        var now = Loads.Sprung(axle, motion);
        return _from is null ? now : _from.Sprung(axle, motion) + _part * (now - _from.Sprung(axle, motion));
    }

    /// <summary>Static level load of an axle at this moment, kg.</summary>
    public double Level(int axle) => Configuration[axle] == AxleState.Raised ? 0
        : _from is null ? Loads.Level.Axles[axle]
        : _from.Level.Axles[axle] + _part * (Loads.Level.Axles[axle] - _from.Level.Axles[axle]);

    /// <summary>Vertical load at each coupling at this moment, static and level, kg.</summary>
    public ImmutableArray<double> Couplings() => [.. Enumerable.Range(Described.Axles.Length, Described.Couplings).Select(row =>
        _from is null ? Loads.Level.Row(row) : _from.Level.Row(row) + _part * (Loads.Level.Row(row) - _from.Level.Row(row)))];

    /// <summary>The loads with the lifts in each way in which it would stand.</summary>
    public IEnumerable<LiftedLoads> InLifts()
    {
        // Every subset of the bits of the liftable axles, none of them included.
        var raised = 0u;
        do
        {
            if (With(Described.Axles.Aggregate(default(Configuration), (c, a) => (raised >> a.Index & 1) != 0 ? c.With(a.Index, AxleState.Raised) : c)) is { } loads)
                yield return new LiftedLoads(raised, [.. Enumerable.Range(0, Described.Rows).Select(loads.Level.Row)]);
            raised = (raised - Described.Liftable) & Described.Liftable;
        }
        while (raised != 0);
    }

    public void Serve(double kilograms)
    {
        Truth = Truth.With(0, v => v with { Service = kilograms });
        Loads = Stood();
    }

    /// <summary>Puts a load on a vehicle: at once, or bit by bit by <see cref="Fill"/>. False, and nothing is done, where it would not stand.</summary>
    public bool Load(Aboard aboard, bool slowly)
    {
        var at = Described.Bodies[Ids.IndexOf(aboard.Vehicle)].StateIndex;
        var (mass, moment) = (Payload[at], Payload[at + 1]);
        (Payload[at], Payload[at + 1]) = (aboard.Kilograms, aboard.Kilograms * aboard.Centre);
        if (RoadLoads.Of(Truth, Configuration, Payload) is not { } loads)
        {
            (Payload[at], Payload[at + 1]) = (mass, moment);
            return false;
        }

        (_from, _part) = slowly ? (Loads, 0.0) : (null, 1.0);
        Loads = loads;
        return true;
    }

    /// <summary>How much of the change is done, 0 to 1.</summary>
    public void Fill(double part)
    {
        _part = part;
        if (part >= 1) _from = null;
    }

    /// <summary>What each vehicle carries at this moment, by mass that has come aboard so far.</summary>
    public ImmutableArray<Aboard> Aboard(double[] before) => [.. Described.Bodies.Where(b => b.StateIndex >= 0).Select(b =>
    {
        var kilograms = Blend(before, b.StateIndex);
        return new Aboard(b.Vehicle.Id, kilograms, kilograms > 0 ? Blend(before, b.StateIndex + 1) / kilograms : 0);
    })];

    /// <summary>The loads with some axles doing something else; <c>null</c> where that would not stand.</summary>
    public RoadLoads? With(Configuration configuration) => RoadLoads.Of(Truth, configuration, Payload);

    public bool Turn(Configuration configuration)
    {
        if (With(configuration) is not { } loads) return false;
        Configuration = configuration;
        Loads = loads;
        Feel();
        return true;
    }

    private double Blend(double[] before, int at) => before[at] + _part * (Payload[at] - before[at]);

    private RoadLoads Stood()
    {
        Feel();
        if (With(Configuration) is { } loads) return loads;
        // Empty, an axle that keeps its own force may lift the body: then it is up.
        var raised = Described.Axles.Where(a => a.Axle.Lift is not null).Aggregate(Configuration, (c, a) => c.With(a.Index, AxleState.Raised));
        Configuration = raised;
        Feel();
        return With(raised) ?? throw new InvalidOperationException($"{Described.Id} does not stand.");
    }

    private void Feel() => Feels = [.. Described.Sensors.Select(s => CircuitFeel.In(Truth, s, Configuration))];

    private static Combination Coupled(ImmutableArray<FleetVehicle> vehicles) =>
        Combination.Couple(vehicles.Select(v => v.Description)) is CouplingResult.Coupled coupled
            ? coupled.Combination
            : throw new InvalidOperationException($"{string.Join(" and ", vehicles.Select(v => v.Id))} cannot be coupled.");
}
