namespace AxleTelemetry.Domain.Histories;

/// <summary>What became of a reading.</summary>
public enum ReadingOutcome
{
    /// <summary>It is stepped when its moment comes.</summary>
    Taken,

    /// <summary>It had come before: nothing changes.</summary>
    Repeated,

    /// <summary>It had come before with a greater value, which counts: nothing changes.</summary>
    Lesser,

    /// <summary>Later ones were stepped already: the history of its lane is to be corrected from its moment on.</summary>
    Late,

    /// <summary>It lies before everything that history can still be run again from: never stepped.</summary>
    TooLate,
}

/// <summary>What was counted of one vehicle's readings. For telling: it depends on what came when.</summary>
/// <param name="Taken">Readings that were new, in time or late.</param>
/// <param name="Repeated">Readings that had come before.</param>
/// <param name="Conflicting">Readings that had come before with another value, greater or lesser.</param>
/// <param name="Late">Readings of those taken that came late.</param>
/// <param name="TooLate">Readings that came too late to be taken.</param>
public readonly record struct ReadingCounts(long Taken, long Repeated, long Conflicting, long Late, long TooLate);
