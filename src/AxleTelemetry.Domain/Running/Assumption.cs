namespace AxleTelemetry.Domain.Running;

/// <summary>Everything that running cost is reckoned with and nobody measures on the vehicle.</summary>
public enum Assumption
{
    /// <summary>Exponent of load in rolling resistance.</summary>
    Beta,

    /// <summary>Load at which the tyres' coefficient is stated, part of their capacity.</summary>
    ReferenceFraction,

    /// <summary>What the tyres' stated coefficient is multiplied with; its spread is common to all tyres.</summary>
    TyreCoefficient,

    /// <summary>The same for each axle by itself; its spread is what differs from axle to axle.</summary>
    TyreCoefficientByAxle,

    /// <summary>Drag of hubs and residual brake of a turning axle.</summary>
    HubDrag,

    /// <summary>Work at the wheels from the energy of the fuel.</summary>
    DrivelineEfficiency,

    /// <summary>Energy of the fuel.</summary>
    FuelEnergy,

    /// <summary>Density of the fuel.</summary>
    FuelDensity,

    /// <summary>CO2 equivalent of burning the fuel.</summary>
    TankToWheel,

    /// <summary>CO2 equivalent of making and burning it.</summary>
    WellToWheel,

    /// <summary>Price of fuel.</summary>
    FuelPrice,

    /// <summary>Price of a new tyre.</summary>
    TyrePrice,

    /// <summary>Price of a retread.</summary>
    RetreadPrice,

    /// <summary>How often a casing is retreaded.</summary>
    RetreadsPerTyre,

    /// <summary>Rubber that a tread may lose.</summary>
    TreadVolume,

    /// <summary>Rubber worn by tread energy: Ctcte of HDM-4.</summary>
    TreadWear,

    /// <summary>Side force of tyres per slip and load.</summary>
    SlipStiffness,

    /// <summary>Air drag of a combination that states none.</summary>
    AirArea,

    /// <summary>Speed above which self-steering axles are locked.</summary>
    SelfSteeringLock,

    /// <summary>Speed where none is known.</summary>
    RoadSpeed,

    /// <summary>What a lift adds to the vehicle's mass.</summary>
    LiftMass,

    /// <summary>What a lift adds to the vehicle's price.</summary>
    LiftPrice,

    /// <summary>Its upkeep.</summary>
    LiftUpkeep,

    /// <summary>Its life.</summary>
    LiftLife,

    /// <summary>Interest on what is tied up in it.</summary>
    Interest,

    /// <summary>What a kilogram of payload less costs; zero, so not valued, unless the owner states it.</summary>
    PayloadLost,
}
