using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Simulator.Weighings;

/// <summary>One visit to a weighbridge with a vehicle, or a combination, that carries a load.</summary>
/// <param name="Name">Names the weighing.</param>
/// <param name="At">When.</param>
/// <param name="Kilograms">Payload.</param>
/// <param name="Centre">Where its centre is, m from the vehicle's origin.</param>
/// <param name="Method">How it is weighed.</param>
public sealed record WeighingPlan(string Name, Moment At, double Kilograms, double Centre, WeighingMethod Method)
{
    /// <summary>What the technician writes beside every row.</summary>
    public string Note { get; init; } = "";

    /// <summary>Load of the second vehicle that carries, in a combination of two that do.</summary>
    public (double Kilograms, double Centre)? Behind { get; init; }

    /// <summary>What the axles do on the bridge; all are down and loaded unless stated.</summary>
    public Configuration Standing { get; init; }

    /// <summary>Circuit whose bellows a brake keeps from settling; <c>null</c> where all are free.</summary>
    public HeldCircuit? Held { get; init; }
}

/// <summary>A circuit whose axle is held by its brake: the links carry a part of the load that the bellows should.</summary>
/// <param name="Sensor">Key of its sensor.</param>
/// <param name="Fraction">By how much the pressure is off, as a part of the sprung load.</param>
/// <param name="Note">What the technician writes of it.</param>
public sealed record HeldCircuit(string Sensor, double Fraction, string Note);
