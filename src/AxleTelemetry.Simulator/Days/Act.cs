using System.Collections.Immutable;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Simulator.Days;

/// <summary>One thing that a driver does on a day.</summary>
internal abstract record Act
{
    private Act() { }

    /// <summary>Drives to a place, metres along the road.</summary>
    public sealed record Drive(double To) : Act;

    /// <summary>Stands; nothing is loaded.</summary>
    public sealed record Stand(int Seconds) : Act;

    /// <summary>Loading or unloading: what is aboard afterwards.</summary>
    public sealed record Load(ImmutableArray<Aboard> Then, int Seconds, LoadingPlace Where) : Act;

    /// <summary>Uncouples what is pulled, or couples a trailer that stands there with its load.</summary>
    public sealed record Couple(ImmutableArray<FleetVehicle> Trailers, ImmutableArray<Aboard> With) : Act;
}

/// <summary>Where and how something is loaded.</summary>
internal enum LoadingPlace
{
    /// <summary>In a yard, at driving height.</summary>
    Yard,

    /// <summary>At a dock, the suspension without air.</summary>
    Dock,

    /// <summary>The body tips.</summary>
    Tip,
}
