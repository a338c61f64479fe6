using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Vehicles;

/// <summary>The weighing of the empty vehicle from which the body's own mass and its centre follow.</summary>
public sealed record KerbWeighing
{
    /// <summary>Load on each axle, in the order of the axles; zero for those raised during the weighing.</summary>
    public required ImmutableArray<Mass> AxleLoads { get; init; }

    /// <summary>Load on the front coupling during the weighing (kingpin or drawbar eye); zero for a vehicle without one that carries.</summary>
    public Mass CouplingLoad { get; init; }

    /// <summary>Fuel, crew and kit aboard during the weighing, taken off again: they are counted as service load.</summary>
    public Mass ServiceAboard { get; init; }

    /// <summary>Standard deviation of the whole weighing. Default 60 kg.</summary>
    public Mass Sd { get; init; } = Mass.FromKilograms(60);

    /// <summary>Height of the centre of the sprung kerb mass above ground. Default 0.95 m.</summary>
    public Length Height { get; init; } = Length.FromMetres(0.95);

    /// <summary>When and how it was weighed, for people.</summary>
    public string Note { get; init; } = "";
}

/// <summary>Fuel, crew and kit of a powered unit.</summary>
public sealed record ServiceLoad
{
    /// <summary>Mean mass. Default 320 kg: a driver with kit, and a tank that was filled in the morning. Common practice.</summary>
    public Mass Mean { get; init; } = Mass.FromKilograms(320);

    /// <summary>Standard deviation while fuel is not reported. Default 120 kg.</summary>
    public Mass Sd { get; init; } = Mass.FromKilograms(120);

    /// <summary>Where it sits. Default 1.5 m.</summary>
    public Length Position { get; init; } = Length.FromMetres(1.5);
}

/// <summary>A named mass that may or may not be aboard: a truck-mounted forklift, a crane, a swap body, a plough.</summary>
public sealed record Fixture
{
    /// <summary>Name, unique in the vehicle.</summary>
    public required string Name { get; init; }

    /// <summary>Its mass.</summary>
    public required Mass Mass { get; init; }

    /// <summary>Where it sits.</summary>
    public required Length Position { get; init; }

    /// <summary>Whether it is aboard now.</summary>
    public FixtureState State { get; init; } = FixtureState.Unknown;

    /// <summary>True where it was aboard at the kerb weighing, and so is part of the kerb masses.</summary>
    public bool InKerbWeighing { get; init; }
}

/// <summary>Whether a fixture is aboard.</summary>
public enum FixtureState
{
    /// <summary>Not known: counted at half, with half as standard deviation.</summary>
    Unknown,

    /// <summary>Aboard.</summary>
    On,

    /// <summary>Not aboard.</summary>
    Off,
}

/// <summary>Where the payload may sit, and what is known of it before anything is measured.</summary>
public sealed record LoadSpace
{
    /// <summary>Front end of the load space.</summary>
    public required Length Front { get; init; }

    /// <summary>Rear end of the load space.</summary>
    public required Length Rear { get; init; }

    /// <summary>Greatest payload the vehicle is permitted.</summary>
    public required Mass Permitted { get; init; }

    /// <summary>Where a load's centre is expected; the middle of the space unless stated.</summary>
    public Length? ExpectedCentre { get; init; }

    /// <summary>Standard deviation of the centre of a part load. Default 0.6 m.</summary>
    public Length PartLoadSd { get; init; } = Length.FromMetres(0.6);

    /// <summary>Standard deviation of the centre of a full load. Default 0.25 m.</summary>
    public Length FullLoadSd { get; init; } = Length.FromMetres(0.25);

    /// <summary>Height of the payload's centre above ground. Default 1.8 m.</summary>
    public Length Height { get; init; } = Length.FromMetres(1.8);

    /// <summary>True for a body that gives its load off on the way: tank, gritter, concrete mixer, tipper.</summary>
    public bool Discharges { get; init; }

    /// <summary>The expected centre, stated or the middle.</summary>
    public Length Centre => ExpectedCentre ?? Length.FromMetres((Front.Metres + Rear.Metres) / 2);
}

/// <summary>A coupling that carries: fifth wheel, kingpin, towing jaw, drawbar eye.</summary>
public sealed record Coupling
{
    /// <summary>Position along the body. A front coupling is the origin: zero.</summary>
    public required Length Position { get; init; }

    /// <summary>Standard deviation of the position. Default 0.015 m.</summary>
    public Length Sd { get; init; } = Length.FromMetres(0.015);

    /// <summary>Height above ground. Default 1.1 m.</summary>
    public Length Height { get; init; } = Length.FromMetres(1.1);

    /// <summary>Least vertical load, where the maker or the law states one.</summary>
    public Mass? Least { get; init; }

    /// <summary>Greatest vertical load, where the maker or the law states one.</summary>
    public Mass? Most { get; init; }

    /// <summary>Foremost position of a coupling that slides; <c>null</c> for a fixed one.</summary>
    public Length? TravelFrom { get; init; }

    /// <summary>Rearmost position of a coupling that slides; <c>null</c> for a fixed one.</summary>
    public Length? TravelTo { get; init; }
}

/// <summary>What the papers permit for the whole vehicle.</summary>
public sealed record RegisteredMasses
{
    /// <summary>Registered gross mass of the vehicle.</summary>
    public required Mass Gross { get; init; }

    /// <summary>Registered gross combination mass; only for a powered unit that pulls.</summary>
    public Mass? Combination { get; init; }

    /// <summary>Registered mass of the rear axle group, where the papers state one.</summary>
    public Mass? RearGroup { get; init; }
}

/// <summary>Air drag of one body.</summary>
public sealed record AirDrag
{
    /// <summary>Drag coefficient times frontal area, m2. Default 0: a body in the lee of the one ahead.</summary>
    public double AreaSquareMetres { get; init; }

    /// <summary>Height at which it acts. Default 2.0 m.</summary>
    public Length Height { get; init; } = Length.FromMetres(2.0);
}
