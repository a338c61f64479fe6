using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Web.Sight;

/// <summary>A vehicle at a glance.</summary>
/// <param name="Name">Who it is.</param>
/// <param name="Plate">Registration plate; may be empty.</param>
/// <param name="CallName">What people call it; may be empty.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Condition">How it is with its limits.</param>
public sealed record VehicleGlance(VehicleName Name, string Plate, string CallName, VehicleKind Kind, Condition Condition)
{
    /// <summary>For a trailer: the unit that it hangs on.</summary>
    public VehicleName? Behind { get; init; }

    /// <summary>What hangs on it, nearest first; empty for nothing.</summary>
    public string Trailers { get; init; } = "";

    public Movement Movement { get; init; }

    /// <summary>All that stands on the road; <c>null</c> where no figures are given.</summary>
    public Estimated? Gross { get; init; }

    /// <summary>When it was last heard, by our clock; <c>null</c> never.</summary>
    public Moment? HeardAt { get; init; }

    public double? Latitude { get; init; }

    public double? Longitude { get; init; }

    /// <summary>Code of the country whose limits hold; empty where none is known.</summary>
    public string Country { get; init; } = "";

    /// <summary>Its history is being corrected: figures may still change.</summary>
    public bool IsCorrected { get; init; }
}

/// <summary>How a vehicle is with its limits, gravest first. Of a trailer behind a unit the unit's condition is told, not its own.</summary>
public enum Condition
{
    /// <summary>Surely over a limit.</summary>
    Over,

    /// <summary>Likely over a limit.</summary>
    LikelyOver,

    /// <summary>Nothing was heard for so long that its figures are of then.</summary>
    Silent,

    /// <summary>It cannot be told whether a limit is passed.</summary>
    CannotTell,

    /// <summary>Near a limit.</summary>
    Near,

    /// <summary>Within all limits.</summary>
    Within,

    /// <summary>Its unit went off while it stood, as it does when a vehicle is parked: its figures are of then.</summary>
    StandingOff,

    /// <summary>No figures: nothing was measured, or they are withheld.</summary>
    NoFigures,

    /// <summary>Behind a unit, which tells for it.</summary>
    Behind,

    /// <summary>Never heard.</summary>
    NeverHeard,
}
