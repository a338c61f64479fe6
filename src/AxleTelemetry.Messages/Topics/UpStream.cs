namespace AxleTelemetry.Messages.Topics;

/// <summary>What a vehicle sends, in the contract's order. The names in topics are those of <see cref="UpStreamNames"/>.</summary>
public enum UpStream : byte
{
    /// <summary>Bellows pressure per sensor.</summary>
    Pressure,

    /// <summary>State per liftable axle.</summary>
    Lift,

    /// <summary>What the vehicle reports of itself.</summary>
    Condition,

    /// <summary>Where it is and how it moves.</summary>
    Position,

    /// <summary>Any of the above together, on one clock.</summary>
    Frame,

    /// <summary>Which trailers hang on it, in order.</summary>
    Coupling,

    /// <summary>Online or offline.</summary>
    Presence,
}
