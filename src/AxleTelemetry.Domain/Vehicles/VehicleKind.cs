namespace AxleTelemetry.Domain.Vehicles;

/// <summary>What a vehicle is, and with that how its body rests: on two axle groups, or on a coupling and one group.</summary>
public enum VehicleKind
{
    /// <summary>A truck that carries its load itself; front axle(s) and a rear group.</summary>
    Rigid,

    /// <summary>A tractor for semi-trailers: front axle(s), a rear group and a fifth wheel; carries no payload of its own.</summary>
    Tractor,

    /// <summary>A trailer that rests on a kingpin in front and one axle group behind.</summary>
    SemiTrailer,

    /// <summary>A rigid-drawbar trailer whose axles stand near its centre; its drawbar eye carries a small vertical load.</summary>
    CentreAxleTrailer,

    /// <summary>A trailer with a turntable (or a dolly) in front: no vertical load at its coupling.</summary>
    DrawbarTrailer,
}

/// <summary>What follows from a kind.</summary>
public static class VehicleKinds
{
    /// <summary>True for a vehicle that pulls: it heads a combination.</summary>
    public static bool IsPowered(this VehicleKind kind) => kind is VehicleKind.Rigid or VehicleKind.Tractor;

    /// <summary>True where the front of the body rests on the vehicle ahead rather than on axles of its own.</summary>
    public static bool RestsOnCoupling(this VehicleKind kind) => kind is VehicleKind.SemiTrailer or VehicleKind.CentreAxleTrailer;
}
