namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>Everything that can be wrong, or only odd, in a vehicle file or a settings file. Closed: a new rule brings its kind and its test.</summary>
public enum ProblemKind
{
    /// <summary>The file is too large for a description of one vehicle.</summary>
    TooLarge,

    /// <summary>The bytes are no UTF-8 text.</summary>
    NotText,

    /// <summary>The text is no JSON.</summary>
    NotJson,

    /// <summary>A property that a vehicle file does not have.</summary>
    UnknownName,

    /// <summary>The same property twice in one object.</summary>
    RepeatedName,

    /// <summary>A property that every file needs is missing.</summary>
    Missing,

    /// <summary>A text where a number belongs, and the like.</summary>
    WrongType,

    /// <summary>A number outside what is possible.</summary>
    OutOfRange,

    /// <summary>A word that is not among those allowed.</summary>
    NotAChoice,

    /// <summary>A text with characters or a length that it may not have.</summary>
    BadText,

    /// <summary>A list with too few or too many entries.</summary>
    WrongCount,

    /// <summary>A key or name used twice.</summary>
    NotUnique,

    /// <summary>A key that no axle has.</summary>
    NoSuchAxle,

    /// <summary>Axles that are not listed front to rear.</summary>
    AxleOrder,

    /// <summary>Positions that do not start where the kind of vehicle says.</summary>
    WrongOrigin,

    /// <summary>An axle role that this kind of vehicle cannot have.</summary>
    RoleNotForKind,

    /// <summary>A role that this kind of vehicle must have and no axle has.</summary>
    RoleMissing,

    /// <summary>A role at the wrong place: a tag axle ahead of the drive axle, and the like.</summary>
    RoleAtWrongPlace,

    /// <summary>An axle in no group.</summary>
    InNoGroup,

    /// <summary>An axle in two groups.</summary>
    InTwoGroups,

    /// <summary>A group with an axle of another group between its own.</summary>
    GroupNotAdjacent,

    /// <summary>A front group that is not ahead of the rear group.</summary>
    GroupOrder,

    /// <summary>A group in which no axle both shares the load and stays on the road.</summary>
    NoAxleStaysDown,

    /// <summary>An axle that shares without a share in a mode.</summary>
    ShareMissing,

    /// <summary>A share or offset of an axle that keeps a force of its own.</summary>
    ShareOfRegulated,

    /// <summary>Shares given both at the axles and in modes.</summary>
    SharesTwice,

    /// <summary>Offsets of a group that do not cancel.</summary>
    OffsetsNotZero,

    /// <summary>A first mode that is not the normal one.</summary>
    NormalNotFirst,

    /// <summary>A sensor whose axles belong to different groups.</summary>
    SensorAcrossGroups,

    /// <summary>A sensor on a regulated axle and a sharing one: they cannot hang on one circuit.</summary>
    SensorMixesCircuits,

    /// <summary>A handbook value given in both ways or in neither.</summary>
    HandbookUnclear,

    /// <summary>An axle without a kerb load.</summary>
    KerbLoadMissing,

    /// <summary>A load on an axle that was raised at the kerb weighing.</summary>
    KerbLoadOnRaised,

    /// <summary>An axle raised at the kerb weighing that has no lift.</summary>
    KerbRaisedWithoutLift,

    /// <summary>A kerb load below what the axle itself weighs.</summary>
    KerbTooLight,

    /// <summary>A property that this kind of vehicle does not have.</summary>
    NotForKind,

    /// <summary>A property that this kind of vehicle needs.</summary>
    NeededForKind,

    /// <summary>An axle with both a regulated force and a ceiling.</summary>
    RegulatedAndCeiling,

    /// <summary>Two values of which one must be below the other.</summary>
    WrongOrder,

    /// <summary>A position outside the space or travel it belongs to.</summary>
    Outside,

    /// <summary>A travel with only one end.</summary>
    TravelIncomplete,

    /// <summary>A registered gross mass below the empty vehicle.</summary>
    GrossBelowKerb,

    /// <summary>Settings: two properties of which only one may stand.</summary>
    Contradiction,

    /// <summary>Settings: a property that another one makes necessary.</summary>
    NeededWith,

    /// <summary>Settings: a fleet that is not among the fleets.</summary>
    NoSuchFleet,

    /// <summary>Settings: a fleet that no shard lists.</summary>
    InNoShard,

    /// <summary>Settings: a fleet that stands in the shards twice.</summary>
    InTwoShards,

    /// <summary>A recipient of alerts that the settings do not have.</summary>
    NoSuchRecipient,

    /// <summary>Odd: kerb loads that do not follow the declared shares.</summary>
    KerbUneven,

    /// <summary>Odd: a circuit calibrated against an axle that can be raised.</summary>
    ReferenceLifts,

    /// <summary>Odd: a sensor that leaves out axles of its circuit.</summary>
    CircuitIncomplete,

    /// <summary>Odd: two sensors for one side of one axle.</summary>
    SensedTwice,

    /// <summary>Odd: a pressure at full load that the sensor would not reach or could not read.</summary>
    UnusualPressure,

    /// <summary>Odd: a registered mass above what the axle may technically carry.</summary>
    RegisteredAboveRating,

    /// <summary>Odd: tyres that carry less than the axle may.</summary>
    TyresBelowRating,

    /// <summary>Odd: a force and the axle's own mass above its rating.</summary>
    ForceAboveRating,

    /// <summary>Odd: a registered gross mass above what all supports may carry.</summary>
    GrossAboveRatings,

    /// <summary>Odd: a full payload above the registered gross mass.</summary>
    PayloadAboveGross,

    /// <summary>Odd: a load space far off the axles.</summary>
    UnusualLoadSpace,

    /// <summary>Odd: axles closer than their tyres, or far apart within a group.</summary>
    UnusualSpacing,

    /// <summary>Odd: passwords that cross a network where others can read them.</summary>
    Readable,

    /// <summary>Odd: a recipient of alerts that no route leads to.</summary>
    NotRouted,
}

/// <summary>How much a problem matters.</summary>
public static class ProblemKinds
{
    /// <summary>True for what is odd but possible: the file is taken, and the oddity told.</summary>
    public static bool IsWarning(this ProblemKind kind) => kind >= ProblemKind.KerbUneven;
}
