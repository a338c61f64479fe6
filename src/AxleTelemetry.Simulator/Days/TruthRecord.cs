using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Hauling;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Days;

/// <summary>What is true of a powered vehicle and what it pulls.</summary>
public abstract record TruthRecord
{
    private TruthRecord() { }

    /// <summary>The moment it tells of, by a right clock; of a leg its end.</summary>
    public required Moment At { get; init; }

    /// <summary>Ids of the coupled vehicles, the powered one first.</summary>
    public required ImmutableArray<string> Vehicles { get; init; }

    /// <summary>What each vehicle carries; nothing is said of those without a load space.</summary>
    public required ImmutableArray<Aboard> Payloads { get; init; }

    /// <summary>Load of every axle, static and level. Now: of the moment; of a leg: the greatest while the wheels rolled.</summary>
    public required ImmutableArray<AxleTruth> Axles { get; init; }

    /// <summary>Gross of the combination, kg; of a leg the greatest.</summary>
    public required double GrossKilograms { get; init; }

    /// <summary>One moment: on every change, and every 10 s while anything moves.</summary>
    public sealed record Now : TruthRecord
    {
        /// <summary>Speed over ground, m/s.</summary>
        public required double Speed { get; init; }

        /// <summary>What the combination feels: acceleration, grade, air.</summary>
        public required RoadMotion Motion { get; init; }

        /// <summary>True while the wheels turn.</summary>
        public bool Rolling => Motion.Rolling;

        /// <summary>Vertical load at each coupling, static and level, kg, the first behind the powered vehicle.</summary>
        public required ImmutableArray<double> Couplings { get; init; }

        /// <summary>Degrees north.</summary>
        public required double Latitude { get; init; }

        /// <summary>Degrees east.</summary>
        public required double Longitude { get; init; }

        /// <summary>What goes wrong at this moment.</summary>
        public required ImmutableArray<ActiveFault> Faults { get; init; }
    }

    /// <summary>A leg: what was driven with one load between two loading stops.</summary>
    public sealed record Leg : TruthRecord
    {
        /// <summary>When the wheels first turned.</summary>
        public required Moment From { get; init; }

        /// <summary>Metres rolled.</summary>
        public required double Metres { get; init; }

        /// <summary>How its load would stand at its end with the lifts in each way that is possible. In memory only: no record tells it.</summary>
        public required ImmutableArray<LiftedLoads> InLifts { get; init; }
    }
}

/// <summary>Loads with the lifts in one way, static and level.</summary>
/// <param name="Raised">A bit for each axle that is raised, counted through the combination; the others are loaded.</param>
/// <param name="Rows">Axles, then couplings, kg.</param>
public sealed record LiftedLoads(uint Raised, ImmutableArray<double> Rows);

/// <summary>What a vehicle carries.</summary>
/// <param name="Vehicle">Its id.</param>
/// <param name="Kilograms">Payload, kg.</param>
/// <param name="Centre">Where its centre is, m from the vehicle's origin.</param>
public readonly record struct Aboard(string Vehicle, double Kilograms, double Centre);

/// <summary>An axle in truth.</summary>
/// <param name="Vehicle">Id of its vehicle.</param>
/// <param name="Axle">Its key.</param>
/// <param name="State">What it does; of a leg, at the leg's end.</param>
/// <param name="Kilograms">Load on the road, static and level, kg.</param>
public readonly record struct AxleTruth(string Vehicle, string Axle, AxleState State, double Kilograms);

/// <summary>Something that goes wrong.</summary>
/// <param name="Vehicle">Id of the vehicle.</param>
/// <param name="Kind">What.</param>
/// <param name="Part">Key of the sensor or axle; empty for the device.</param>
public readonly record struct ActiveFault(string Vehicle, FaultKind Kind, string Part);
