using System.Collections.Immutable;
using AxleTelemetry.Simulator.Days;
using AxleTelemetry.Simulator.Routes;

namespace AxleTelemetry.Simulator.Hauling;

/// <summary>A powered vehicle through its days, with the trailers that it pulls: what their devices send, and what is true.</summary>
public sealed class SimulatedVehicle
{
    internal SimulatedVehicle(FleetPlan plan, UnitKind kind, FleetVehicle lead)
    {
        Plan = plan;
        Kind = kind;
        Lead = lead;
    }

    /// <summary>What it is.</summary>
    public UnitKind Kind { get; }

    /// <summary>The powered vehicle.</summary>
    public FleetVehicle Lead { get; }

    /// <summary>The way it works along.</summary>
    public required Route Route { get; init; }

    /// <summary>Trailers that it may pull; other vehicles of the haulier pull them on other days.</summary>
    public ImmutableArray<FleetVehicle> Trailers => Pool;

    internal FleetPlan Plan { get; }

    internal ImmutableArray<FleetVehicle> Pool { get; init; } = [];

    internal int Place { get; init; }

    internal int PerDay { get; init; }

    /// <summary>
    /// Everything of some days, as it happens: messages in the order sent, truth in the order of time. Days are drawn one by
    /// one, each from midnight, and each alone is the same as among others.
    /// </summary>
    /// <param name="day">The first day; 0 begins at the plan's start.</param>
    /// <param name="days">How many.</param>
    public IEnumerable<DayOutput> Play(int day, int days) => Enumerable.Range(day, days).SelectMany(d => DayPlayer.Play(this, d));

    /// <summary>The messages of some days, in the order sent.</summary>
    public IEnumerable<SentMessage> Messages(int day, int days) => Play(day, days).OfType<DayOutput.Sent>().Select(s => s.Message);

    /// <summary>The truth of some days, in the order of time.</summary>
    public IEnumerable<TruthRecord> Truth(int day, int days) => Play(day, days).OfType<DayOutput.True>().Select(t => t.Record);

    /// <summary>The trailers that it has on day 0: those that are weighed behind it.</summary>
    internal ImmutableArray<FleetVehicle> Own => On(0);

    /// <summary>The trailers of a day, in the order pulled; no two vehicles have one on the same day.</summary>
    internal ImmutableArray<FleetVehicle> On(int day) => [.. Enumerable.Range(0, PerDay).Select(i => Pool[(PerDay * Place + i + (PerDay > 1 ? day : 0)) % Pool.Length])];
}
