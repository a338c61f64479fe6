using System.Collections.Immutable;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Service.Demonstrating;

/// <summary>The fleet of the demonstration: most of it well behaved, with something of everything that the service is there for.</summary>
internal static class DemoFleet
{
    // From when the day begins on: at any hour of a working day some have just set off and some come home.
    private const int Earliest = 0, Latest = 7 * 3600 + 1800;

    // Laden to where one load in about thirty is over a limit.
    private const double LadenMean = 0.85, LadenSd = 0.08;

    // No clock is wrong: what is shown is never ahead of the present.
    private static readonly ImmutableSortedDictionary<FaultKind, double> Faults = ImmutableSortedDictionary<FaultKind, double>.Empty
        .Add(FaultKind.LeftDown, 0.08)
        .Add(FaultKind.RaisedTooLong, 0.08)
        .Add(FaultKind.AutomaticFails, 0.05)
        .Add(FaultKind.SensorDrifts, 0.03)
        .Add(FaultKind.LiftSwitchLies, 0.03)
        .Add(FaultKind.StoredOldestFirst, 0.10)
        .Add(FaultKind.StoredNewestFirst, 0.05)
        .Add(FaultKind.Duplicates, 0.10)
        .Add(FaultKind.Reordering, 0.10);

    /// <summary>Draws it.</summary>
    /// <param name="seed">What everything is drawn from.</param>
    /// <param name="units">Powered vehicles, kinds in turn.</param>
    /// <param name="pace">When its first day begins, and until when its devices have stored.</param>
    public static SimulatedFleet Draw(ulong seed, int units, DemoPace pace) => SimulatedFleet.Draw(seed, new FleetPlan
    {
        Units = FleetPlan.InTurn(units),
        Start = pace.DayBegins,
        StoredUntil = pace.StoredUntil,
        WorkBegins = (Earliest, Latest),
        LadenMean = LadenMean,
        LadenSd = LadenSd,
        Faults = Faults,
    });
}
