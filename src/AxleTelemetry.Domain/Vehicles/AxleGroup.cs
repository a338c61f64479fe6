using System.Collections.Immutable;

namespace AxleTelemetry.Domain.Vehicles;

/// <summary>
/// Axles that together support one end of a body. A regulated axle belongs to the group for its limits, but carries its
/// own force and takes no share.
/// </summary>
public sealed record AxleGroup
{
    /// <summary>Name in tables, for example <c>rear</c>.</summary>
    public required string Name { get; init; }

    /// <summary>Indices into the vehicle's axles, front to rear.</summary>
    public required ImmutableArray<int> Axles { get; init; }

    /// <summary>What makes the axles share.</summary>
    public required ShareLaw Law { get; init; }

    /// <summary>True where a spring is at least 75 % air, or equivalent by (EU) 2021/535.</summary>
    public bool AirSuspension { get; init; } = true;
}

/// <summary>What makes the axles of a group share its load, and with that how well the shares are known.</summary>
public enum ShareLaw
{
    /// <summary>One air circuit: shares by effective area; sd 1 %.</summary>
    OneCircuit,

    /// <summary>Walking beam or balance lever: shares by lever; sd 2 %.</summary>
    Lever,

    /// <summary>Separate springs, or leaf springs of a trailer: sd 5 %.</summary>
    SeparateSprings,

    /// <summary>Separate circuits under a declared control law: sd 3 %.</summary>
    ControlLaw,
}

/// <summary>Spread of a share.</summary>
public static class ShareLaws
{
    /// <summary>Relative standard deviation of one axle's share. Common practice, no source.</summary>
    public static double RelativeSd(this ShareLaw law) => law switch
    {
        ShareLaw.OneCircuit => 0.01,
        ShareLaw.Lever => 0.02,
        ShareLaw.SeparateSprings => 0.05,
        ShareLaw.ControlLaw => 0.03,
        _ => throw new ArgumentOutOfRangeException(nameof(law), law, "Unknown share law."),
    };
}

/// <summary>
/// How the axles share in one setting of the suspension control. The first mode of a vehicle is the normal one.
/// </summary>
public sealed record SuspensionMode
{
    /// <summary>Name in messages, for example <c>normal</c> or <c>traction</c>.</summary>
    public required string Name { get; init; }

    /// <summary>Weight of each axle of the vehicle in its group (any positive scale; those loaded are renormalised to sum 1).</summary>
    public required ImmutableArray<double> Weights { get; init; }

    /// <summary>Constant part c of each axle's sprung load, kg; sums to zero in each group.</summary>
    public required ImmutableArray<double> OffsetKilograms { get; init; }
}
