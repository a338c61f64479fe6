using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>What a powered vehicle says hangs on it. It holds for what comes after its moment. That the vehicles can be coupled so was checked before.</summary>
/// <param name="By">The powered vehicle.</param>
/// <param name="At">From when on; <see cref="FleetHistory.Beginning"/> for what held before anything was heard.</param>
/// <param name="Trailers">The trailers in order; empty for solo.</param>
public sealed record CouplingStatement(VehicleName By, Moment At, ImmutableArray<VehicleName> Trailers);

/// <summary>From a moment on, another version of what is set for a vehicle counts: description, calibrations, limits.</summary>
/// <param name="Of">The vehicle.</param>
/// <param name="From">It holds for what comes after this moment.</param>
/// <param name="Version">Number of the version, greater than those before it.</param>
public sealed record SettingsVersion(VehicleName Of, Moment From, int Version);

/// <summary>What became of a statement or a version.</summary>
public enum FactOutcome
{
    /// <summary>It counts.</summary>
    Entered,

    /// <summary>It had come before.</summary>
    Repeated,

    /// <summary>Another one of the same moment had come before, and this one is the greater: it counts.</summary>
    ConflictWon,

    /// <summary>Another one of the same moment had come before, and counts.</summary>
    ConflictLost,

    /// <summary>It lies before everything that history can still be run again from, and later ones have taken its place since: nothing changes.</summary>
    TooLate,
}
