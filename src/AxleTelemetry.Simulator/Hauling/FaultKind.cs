namespace AxleTelemetry.Simulator.Hauling;

/// <summary>What goes wrong with a vehicle, its device or its driver on a day.</summary>
public enum FaultKind
{
    /// <summary>No connection for a while; what was stored is sent afterwards, oldest first.</summary>
    StoredOldestFirst,

    /// <summary>No connection for a while; what was stored is sent afterwards, newest first.</summary>
    StoredNewestFirst,

    /// <summary>Some messages come twice.</summary>
    Duplicates,

    /// <summary>Some messages come after later ones.</summary>
    Reordering,

    /// <summary>The clock is off by some seconds all day.</summary>
    ClockOffset,

    /// <summary>The clock is hours slow until the receiver has found the time.</summary>
    WrongClockAtStart,

    /// <summary>A pressure sensor departs more and more.</summary>
    SensorDrifts,

    /// <summary>A pressure sensor shows one value from some moment on.</summary>
    SensorStuck,

    /// <summary>A pressure sensor feels one side of its axle only, though nobody says so.</summary>
    SensorOneSided,

    /// <summary>A lift's switch says the opposite.</summary>
    LiftSwitchLies,

    /// <summary>The driver keeps an axle down all day, for nothing.</summary>
    LeftDown,

    /// <summary>The driver keeps an axle up for many kilometres after loading.</summary>
    RaisedTooLong,

    /// <summary>The automatic does not lower an axle whatever it carries.</summary>
    AutomaticFails,
}
