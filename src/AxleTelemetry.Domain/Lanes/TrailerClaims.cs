namespace AxleTelemetry.Domain.Lanes;

/// <summary>Whether others claim the trailers that a powered vehicle says hang on it.</summary>
public enum TrailerClaims
{
    /// <summary>Nobody else does.</summary>
    Undisputed,

    /// <summary>Another one does too, and said so earlier: the trailer is followed here, as the last word counts.</summary>
    Contested,

    /// <summary>Another one said so later: the unit is followed without it, and no gross is claimed.</summary>
    Lost,
}
