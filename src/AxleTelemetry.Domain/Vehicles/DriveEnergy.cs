using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Vehicles;

/// <summary>What drives a powered unit, as far as it earns extra permitted mass.</summary>
public sealed record DriveEnergy
{
    /// <summary>The kind. Default conventional: no extra mass.</summary>
    public DriveEnergyKind Kind { get; init; }

    /// <summary>Mass that the technology adds, as the papers state it; the law grants no more than this. Default zero.</summary>
    public Mass ExtraMass { get; init; }
}

/// <summary>Kinds of drive that the law tells apart.</summary>
public enum DriveEnergyKind
{
    /// <summary>Diesel, petrol and the like.</summary>
    Conventional,

    /// <summary>An alternative fuel in the sense of 96/53/EC, Article 2.</summary>
    AlternativeFuel,

    /// <summary>Zero emission: battery or fuel cell.</summary>
    ZeroEmission,
}
