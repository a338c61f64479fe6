using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Vehicles;

/// <summary>A pressure sensor on a bellows circuit.</summary>
public sealed record PressureSensor
{
    /// <summary>Name in messages, unique in the vehicle.</summary>
    public required string Key { get; init; }

    /// <summary>Axles whose bellows hang on the circuit, as indices into the vehicle's axles; the first is the reference axle of the calibration.</summary>
    public required ImmutableArray<int> Axles { get; init; }

    /// <summary>Which side of the axle the circuit feeds.</summary>
    public CircuitSide Side { get; init; }

    /// <summary>What the sensor measures against.</summary>
    public PressureReference Reference { get; init; } = PressureReference.Vented;

    /// <summary>Pressure that stays in the load bellows of a raised axle. Default 20 kPa.</summary>
    public Pressure RaisedResidual { get; init; } = Pressure.FromKilopascals(20);

    /// <summary>Full scale of the sensor. Default 1000 kPa.</summary>
    public Pressure FullScale { get; init; } = Pressure.FromKilopascals(1000);

    /// <summary>What the handbook says of the circuit: the prior of every calibration, and what holds until there is one.</summary>
    public required CircuitFit Handbook { get; init; }
}

/// <summary>The side of an axle that a circuit feeds.</summary>
public enum CircuitSide
{
    /// <summary>Both sides, cross-connected.</summary>
    Both,

    /// <summary>The left side only: the right is inferred, and nothing that rests on it is ever sure.</summary>
    Left,

    /// <summary>The right side only.</summary>
    Right,
}

/// <summary>What a pressure sensor measures against.</summary>
public enum PressureReference
{
    /// <summary>The air around it: reads true at any altitude.</summary>
    Vented,

    /// <summary>Air sealed in at sea level (101.3 kPa): reads high in the mountains.</summary>
    Sealed,

    /// <summary>Vacuum: the ambient pressure must be taken off.</summary>
    Absolute,

    /// <summary>Not known: sd 1 kPa per 100 m of altitude.</summary>
    Unknown,
}
