using System.Collections.Immutable;

namespace AxleTelemetry.Simulator.Hauling;

/// <summary>What a unit is made of: a powered vehicle and what it pulls.</summary>
public enum UnitKind
{
    /// <summary>Rigid with a lifting tag axle.</summary>
    TagRigid,

    /// <summary>Rigid with a lifting pusher axle.</summary>
    PusherRigid,

    /// <summary>Tipper with an added tag axle.</summary>
    Tipper,

    /// <summary>Rigid with a tag axle and a centre-axle trailer.</summary>
    Drawbar,

    /// <summary>Tractor and a tridem semi-trailer whose first axle lifts.</summary>
    Articulated,

    /// <summary>Tractor with a pusher axle and the same semi-trailer.</summary>
    PusherArticulated,

    /// <summary>Tractor and a semi-trailer without a sensor.</summary>
    BareArticulated,
}

/// <summary>What follows from a kind of unit.</summary>
internal static class UnitKinds
{
    /// <summary>The examples that its vehicles are drawn after, each with the letters of their ids; the powered one first.</summary>
    public static ImmutableArray<(string Example, string Letters)> Vehicles(this UnitKind kind) => kind switch
    {
        UnitKind.TagRigid => [("rigid-6x2-tag", "RT")],
        UnitKind.PusherRigid => [("rigid-6x2-pusher", "RP")],
        UnitKind.Tipper => [("rigid-8x4-regulated-lift", "RK")],
        UnitKind.Drawbar => [("rigid-6x2-tag", "RD"), ("trailer-centre-axle", "CA")],
        UnitKind.Articulated => [("tractor-4x2", "TR"), ("semi-tridem-lift-first", "ST")],
        UnitKind.PusherArticulated => [("tractor-6x2-pusher", "TP"), ("semi-tridem-lift-first", "SP")],
        UnitKind.BareArticulated => [("tractor-4x2", "TB"), ("semi-bare", "SB")],
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Unknown kind."),
    };

    /// <summary>True where trailers change between tractors.</summary>
    public static bool Swaps(this UnitKind kind) => kind is UnitKind.Articulated or UnitKind.PusherArticulated or UnitKind.BareArticulated;
}
