using System.Collections.Immutable;
using AxleTelemetry.Domain.Places;

namespace AxleTelemetry.Domain.Limits;

/// <summary>
/// A table of limits as dated data: an act, its edition, how far it may be trusted, and its rules. Immutable; a change is a
/// new set.
/// </summary>
public sealed record LimitSet
{
    /// <summary>Identity: 1 to 64 of a-z 0-9 . _ -</summary>
    public required string Id { get; init; }

    /// <summary>The act, for people.</summary>
    public required string Title { get; init; }

    /// <summary>Date of the edition the figures were taken from.</summary>
    public required DateOnly AsOf { get; init; }

    /// <summary>Where the edition can be found, with the acts that amended it.</summary>
    public required string Source { get; init; }

    /// <summary>How far the edition may be trusted; a rule may state its own.</summary>
    public required LimitStatus Status { get; init; }

    /// <summary>Trips the table is made for.</summary>
    public TripScope AppliesTo { get; init; } = TripScope.National;

    /// <summary>Countries it is made for; empty: none in particular, it stands in wherever no other table answers.</summary>
    public ImmutableArray<Country> Countries { get; init; } = [];

    /// <summary>First day on which it takes the place of an older table of the same countries and trips; <c>null</c>: it always did.</summary>
    public DateOnly? From { get; init; }

    /// <summary>True: where it has no row there is no limit, and no other table is asked.</summary>
    public bool StandsAlone { get; init; }

    /// <summary>What a reader of the table must know.</summary>
    public ImmutableArray<string> Notes { get; init; } = [];

    /// <summary>The rules, in the order of the act.</summary>
    public required ImmutableArray<LimitRule> Rules { get; init; }

    /// <summary>True where both say the same, word for word.</summary>
    public bool IsSame(LimitSet other) => ReferenceEquals(this, other)
        || this with { Countries = [], Notes = [], Rules = [] } == other with { Countries = [], Notes = [], Rules = [] }
        && Countries.SequenceEqual(other.Countries) && Notes.SequenceEqual(other.Notes) && Rules.SequenceEqual(other.Rules);

    /// <summary>Where one rule comes from.</summary>
    public LimitSource SourceOf(LimitRule rule) => new(Title, rule.Clause, AsOf, rule.Status ?? Status);
}
