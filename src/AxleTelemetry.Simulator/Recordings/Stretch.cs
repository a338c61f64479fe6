using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Simulator.Recordings;

/// <summary>A time in which nothing is coupled or uncoupled.</summary>
/// <param name="From">When it begins.</param>
/// <param name="Seconds">How long it lasts.</param>
internal abstract record Stretch(Moment From, int Seconds)
{
    /// <summary>A combination in traffic, the pulling vehicle first.</summary>
    /// <param name="Vehicles">Who.</param>
    /// <param name="Stated">True where the pulling vehicle says at the beginning what it pulls.</param>
    public sealed record Driven(Moment From, int Seconds, ImmutableArray<VehicleDescription> Vehicles, bool Stated) : Stretch(From, Seconds);

    /// <summary>A trailer by itself.</summary>
    public sealed record Parked(Moment From, int Seconds, VehicleDescription Trailer) : Stretch(From, Seconds);
}
