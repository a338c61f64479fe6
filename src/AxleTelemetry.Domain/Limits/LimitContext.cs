namespace AxleTelemetry.Domain.Limits;

/// <summary>What is known of the trip that decides which rules hold.</summary>
public sealed record LimitContext
{
    /// <summary>National or international. Default unknown: the stricter of both holds, and the margin says so.</summary>
    public TripKind Trip { get; init; }

    /// <summary>True only where the trip is declared intermodal (containers or swap bodies); never guessed.</summary>
    public bool Intermodal { get; init; }

    /// <summary>Nothing declared.</summary>
    public static LimitContext Undeclared { get; } = new();
}

/// <summary>Whether a trip crosses a border.</summary>
public enum TripKind
{
    /// <summary>Not declared: the stricter holds.</summary>
    Unknown,

    /// <summary>Within one country.</summary>
    National,

    /// <summary>Between countries.</summary>
    International,
}

/// <summary>Trips for which a rule or a whole table is made.</summary>
public enum TripScope
{
    /// <summary>Every trip.</summary>
    All,

    /// <summary>National traffic only.</summary>
    National,

    /// <summary>International traffic only.</summary>
    International,
}

/// <summary>Holds scope and trip together.</summary>
internal static class TripScopes
{
    /// <summary>True where a trip of a known kind falls under the scope; an unknown trip only under <see cref="TripScope.All"/>.</summary>
    public static bool Covers(this TripScope scope, TripKind trip) => scope switch
    {
        TripScope.All => true,
        TripScope.National => trip == TripKind.National,
        TripScope.International => trip == TripKind.International,
        _ => throw new ArgumentOutOfRangeException(nameof(scope), scope, "Unknown scope."),
    };
}
