using System.Collections.Immutable;

namespace AxleTelemetry.Domain.Running;

/// <summary>What an assumption is called in a file, its unit, and what it can be at all.</summary>
/// <param name="Assumption">Which.</param>
/// <param name="Key">Its name in files.</param>
/// <param name="Unit">Its unit; <c>money</c> stands for the currency set.</param>
/// <param name="Least">Least value.</param>
/// <param name="Most">Greatest value.</param>
public sealed record AssumptionTerm(Assumption Assumption, string Key, string Unit, double Least, double Most)
{
    /// <summary>All, in the order of <see cref="Running.Assumption"/>.</summary>
    public static ImmutableArray<AssumptionTerm> All { get; } =
    [
        new(Assumption.Beta, "beta", "1", 0.7, 1.1),
        new(Assumption.ReferenceFraction, "reference_fraction", "1", 0.5, 1),
        new(Assumption.TyreCoefficient, "tyre_coefficient", "1", 0.5, 2),
        new(Assumption.TyreCoefficientByAxle, "tyre_coefficient_by_axle", "1", 1, 1),
        new(Assumption.HubDrag, "hub_drag", "N", 0, 500),
        new(Assumption.DrivelineEfficiency, "driveline_efficiency", "1", 0.2, 0.6),
        new(Assumption.FuelEnergy, "fuel_energy", "MJ/kg", 20, 60),
        new(Assumption.FuelDensity, "fuel_density", "kg/l", 0.3, 1.2),
        new(Assumption.TankToWheel, "co2_tank_to_wheel", "kg/kg", 0, 10),
        new(Assumption.WellToWheel, "co2_well_to_wheel", "kg/kg", 0, 10),
        new(Assumption.FuelPrice, "fuel_price", "money/l", 0, 100_000),
        new(Assumption.TyrePrice, "tyre_price", "money", 0, 100_000_000),
        new(Assumption.RetreadPrice, "retread_price", "money", 0, 100_000_000),
        new(Assumption.RetreadsPerTyre, "retreads_per_tyre", "1", 0, 5),
        new(Assumption.TreadVolume, "tread_volume", "dm3", 1, 30),
        new(Assumption.TreadWear, "tread_wear", "dm3/(MN m)", 1e-5, 0.1),
        new(Assumption.SlipStiffness, "slip_stiffness", "N/(rad kg)", 10, 150),
        new(Assumption.AirArea, "air_area", "m2", 1, 15),
        new(Assumption.SelfSteeringLock, "self_steering_lock", "km/h", 0, 60),
        new(Assumption.RoadSpeed, "road_speed", "km/h", 20, 120),
        new(Assumption.LiftMass, "lift_mass", "kg", 0, 1_000),
        new(Assumption.LiftPrice, "lift_price", "money", 0, 1_000_000_000),
        new(Assumption.LiftUpkeep, "lift_upkeep", "money/year", 0, 100_000_000),
        new(Assumption.LiftLife, "lift_life", "years", 1, 40),
        new(Assumption.Interest, "interest", "1/year", 0, 1),
        new(Assumption.PayloadLost, "payload_lost", "money/(kg year)", 0, 1_000_000),
    ];

    /// <summary>The term of an assumption.</summary>
    public static AssumptionTerm Of(Assumption assumption) => All[(int)assumption];

    /// <summary>Greatest standard deviation that makes sense of a value: half of it, or the whole where it may be zero.</summary>
    public double MostSd(double value) => Least > 0 ? value / 2 : value;

    /// <summary>What is wrong with a value and its spread; <c>null</c> where nothing is.</summary>
    public string? Wrong(double value, double sd) =>
        !(value >= Least && value <= Most) ? FormattableString.Invariant($"from {Least} to {Most} {Unit}")
        : !(sd >= 0 && sd <= MostSd(value)) ? FormattableString.Invariant($"a standard deviation from 0 to {MostSd(value)} {Unit}")
        : null;
}
