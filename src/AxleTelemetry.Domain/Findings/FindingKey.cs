using AxleTelemetry.Domain.Limits;

namespace AxleTelemetry.Domain.Findings;

/// <summary>Identity of a thing that can be found about a combination; an episode is an interval in which it holds.</summary>
/// <param name="Kind">What is found.</param>
/// <param name="Margin">The limit, for those that concern one; otherwise default.</param>
/// <param name="Element">Axle, sensor or body, counted through the combination; -1 where a limit says it.</param>
public readonly record struct FindingKey(FindingKind Kind, MarginKey Margin, int Element);

/// <summary>What can be found.</summary>
public enum FindingKind
{
    /// <summary>A limit is passed.</summary>
    Overload,

    /// <summary>The interval is too wide to say whether a limit is passed.</summary>
    CannotTell,

    /// <summary>A liftable axle runs on the road although everything would be permitted and cheaper with it raised.</summary>
    LoweredForNothing,

    /// <summary>A raised axle stayed up above 30 km/h with a limit surely passed.</summary>
    AutomaticLoweringDidNotAct,

    /// <summary>The driving axle is loaded beyond its limit while moving off, as the maker's moving-off aid allows.</summary>
    MovingOffAid,

    /// <summary>An axle is said to be raised, yet its own bellows carry and feel the road: the lift switch lies.</summary>
    LiftDisputed,

    /// <summary>A pressure stepped while rolling without a lift: it cannot be load.</summary>
    PressureStep,

    /// <summary>A pressure crept away from the load while rolling, no two readings apart: it cannot be load.</summary>
    SensorDrifts,

    /// <summary>A sensor says nothing while its vehicle is heard and rolls.</summary>
    SensorSilent,

    /// <summary>A loaded circuit shows no road noise while others feel the road.</summary>
    SensorStill,

    /// <summary>An axle said to carry is relieved.</summary>
    AxleRelieved,

    /// <summary>The measured split between axles departs from the declared one.</summary>
    SplitDeparts,

    /// <summary>Suspension not at driving height, or no air in the bellows: no loads are given.</summary>
    SuspensionOff,

    /// <summary>The vehicle is carried: a ferry, a train, a recovery truck.</summary>
    Carried,

    /// <summary>What is reported cannot be: no axle is left to carry one end of a vehicle, or a suspension would have to pull.</summary>
    NotPossible,

    /// <summary>The payload comes out below zero or far above what is permitted: zero error, wrong trailer or wrong description.</summary>
    PayloadImplausible,

    /// <summary>A liftable axle runs raised although everything would be permitted and cheaper with it lowered: tyres and bends cost more than rolling saves.</summary>
    RaisedForNothing,

    /// <summary>A limit that holds would not hold across the border that the vehicle heads for. Advice: nothing is passed yet.</summary>
    OverAcrossBorder,

    /// <summary>The side of a border cannot be told, and the limits differ: those that do are not counted.</summary>
    CountryUndecided,

    /// <summary>Another powered vehicle claims a trailer that this one says hangs on it.</summary>
    TrailerClaimedTwice,

    /// <summary>A coupled trailer has no description: a stated default stands in its place.</summary>
    TrailerUndescribed,

    /// <summary>A trailer rolls and no powered vehicle says that it pulls it. Told of the trailer itself: it has no lane, so it is no episode of any history.</summary>
    TrailerUnclaimed,
}
