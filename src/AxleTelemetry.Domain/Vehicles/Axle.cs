using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Vehicles;

/// <summary>One axle as its maker and its papers describe it.</summary>
public sealed record Axle
{
    /// <summary>Name in messages and tables, for example <c>drive</c> or <c>trailer-1</c>; unique in the vehicle.</summary>
    public required string Key { get; init; }

    /// <summary>What it is for.</summary>
    public required AxleRole Role { get; init; }

    /// <summary>Position along the body, rearward positive.</summary>
    public required Length Position { get; init; }

    /// <summary>Mass that the suspension does not carry: axle, wheels, brakes, tyres.</summary>
    public required Mass Unsprung { get; init; }

    /// <summary>Standard deviation of <see cref="Unsprung"/>. Common practice: 40 kg.</summary>
    public Mass UnsprungSd { get; init; } = Mass.FromKilograms(40);

    /// <summary>How it turns with the vehicle.</summary>
    public Steering Steering { get; init; }

    /// <summary>What the lift does; <c>null</c> for an axle that stays on the road.</summary>
    public Lift? Lift { get; init; }

    /// <summary>Technically permissible mass stated by the maker.</summary>
    public required Mass Rating { get; init; }

    /// <summary>Mass registered for this axle, where the papers state one.</summary>
    public Mass? Registered { get; init; }

    /// <summary>What it rolls on.</summary>
    public required Tyres Tyres { get; init; }

    /// <summary>An own bellows force, kg at the axle, kept by a regulator whatever the body weighs; <c>null</c> where the axle shares its group's load.</summary>
    public Mass? RegulatedForce { get; init; }

    /// <summary>Greatest bellows force, kg at the axle, that a pressure-limiting valve lets through; <c>null</c> without one.</summary>
    public Mass? CeilingForce { get; init; }
}

/// <summary>What an axle is for.</summary>
public enum AxleRole
{
    /// <summary>Steered front axle.</summary>
    Steer,

    /// <summary>Driven axle.</summary>
    Drive,

    /// <summary>Undriven axle behind the drive axle.</summary>
    Tag,

    /// <summary>Undriven axle ahead of the drive axle.</summary>
    Pusher,

    /// <summary>Axle of a trailer.</summary>
    Trailer,
}

/// <summary>How an axle's wheels follow a bend.</summary>
public enum Steering
{
    /// <summary>Wheels point straight ahead.</summary>
    None,

    /// <summary>Steered by the driver or by a linkage.</summary>
    Steered,

    /// <summary>Castering; locks above about 25 km/h.</summary>
    SelfSteering,
}

/// <summary>A lift and its automatic control.</summary>
public sealed record Lift
{
    /// <summary>The control lets the axle rise when the neighbours would carry less than this fraction of their rating. Default 0.90, common practice.</summary>
    public double RaiseBelow { get; init; } = 0.90;

    /// <summary>The control lowers it when a neighbour carries more than this fraction of its rating. Default 1.00, (EU) 2021/535 Annex XIII.</summary>
    public double LowerAbove { get; init; } = 1.00;

    /// <summary>Moving-off aid stated by the maker: how far over the limit the driving axle may go below 30 km/h, 0 to 0.30; 0 where the maker states none.</summary>
    public double MovingOffAid { get; init; }

    /// <summary>True where the control can relieve the axle's bellows while its wheels stay on the road.</summary>
    public bool CanUnload { get; init; }
}

/// <summary>The tyres of one axle.</summary>
public sealed record Tyres
{
    /// <summary>Number of tyres on the axle: 2 single, 4 twin.</summary>
    public required int Count { get; init; }

    /// <summary>Load all tyres of the axle may carry together at the speed driven.</summary>
    public required Mass Capacity { get; init; }

    /// <summary>Rolling radius under load. Default 0.50 m.</summary>
    public Length Radius { get; init; } = Length.FromMetres(0.50);

    /// <summary>Rolling resistance coefficient at 85 % of capacity, N/kN, as on the tyre label. Default 5.5 (class C of (EU) 2020/740).</summary>
    public double RollingResistance { get; init; } = 5.5;

    /// <summary>True with twin tyres.</summary>
    public bool Twin => Count >= 4;
}
