using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Vehicles;

/// <summary>
/// One vehicle as its owner describes it: a rigid body on two supports. Immutable; a change is a new version. Built by a
/// parser that has checked it as a whole, so that nothing behind it needs to.
/// </summary>
public sealed record VehicleDescription
{
    /// <summary>Identity: 1 to 64 of A-Z a-z 0-9 . _ -</summary>
    public required string Id { get; init; }

    /// <summary>What people call it.</summary>
    public string Name { get; init; } = "";

    /// <summary>Registration plate, for people.</summary>
    public string Plate { get; init; } = "";

    /// <summary>What it is.</summary>
    public required VehicleKind Kind { get; init; }

    /// <summary>Its axles, front to rear; at least one.</summary>
    public required ImmutableArray<Axle> Axles { get; init; }

    /// <summary>The front support where it is axles; <c>null</c> where the body rests on the vehicle ahead.</summary>
    public AxleGroup? Front { get; init; }

    /// <summary>The rear support.</summary>
    public required AxleGroup Rear { get; init; }

    /// <summary>Settings of the suspension control; the first is normal. At least one.</summary>
    public required ImmutableArray<SuspensionMode> Modes { get; init; }

    /// <summary>Pressure sensors; may be empty (a bare trailer).</summary>
    public ImmutableArray<PressureSensor> Sensors { get; init; } = [];

    /// <summary>The weighing of the empty vehicle.</summary>
    public required KerbWeighing Kerb { get; init; }

    /// <summary>Named masses that come and go.</summary>
    public ImmutableArray<Fixture> Fixtures { get; init; } = [];

    /// <summary>Fuel, crew and kit; only a powered unit has them.</summary>
    public ServiceLoad? Service { get; init; }

    /// <summary>Where payload goes; <c>null</c> for a tractor.</summary>
    public LoadSpace? LoadSpace { get; init; }

    /// <summary>The coupling to the vehicle ahead; <c>null</c> for a powered unit.</summary>
    public Coupling? FrontCoupling { get; init; }

    /// <summary>The coupling for a vehicle behind; <c>null</c> where nothing can be coupled.</summary>
    public Coupling? RearCoupling { get; init; }

    /// <summary>What the papers permit.</summary>
    public required RegisteredMasses Registered { get; init; }

    /// <summary>What drives it, as far as it earns extra permitted mass; only a powered unit has it.</summary>
    public DriveEnergy Energy { get; init; } = new();

    /// <summary>From the first axle forward to the front corners; <c>null</c> where nobody measured it.</summary>
    public Length? FrontOverhang { get; init; }

    /// <summary>Width; <c>null</c> where nobody measured it.</summary>
    public Length? Width { get; init; }

    /// <summary>Air drag.</summary>
    public AirDrag Drag { get; init; } = new();

    /// <summary>True for what stands in the place of a trailer that nobody described: see <see cref="StandInTrailer"/>.</summary>
    public bool IsStandIn { get; init; }

    /// <summary>Index of an axle by its key, or -1.</summary>
    public int IndexOfAxle(string key)
    {
        for (var i = 0; i < Axles.Length; i++)
            if (Axles[i].Key == key)
                return i;
        return -1;
    }
}
