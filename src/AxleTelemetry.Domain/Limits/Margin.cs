using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Limits;

/// <summary>
/// One limit in one configuration as a linear margin over the load rows (axles, then couplings):
/// g = sum of weight x row - constant, in kg. Over when g is greater than zero.
/// </summary>
public sealed record Margin
{
    /// <summary>What it limits; the same key in every configuration in which the limit exists.</summary>
    public required MarginKey Key { get; init; }

    /// <summary>Weight per load row.</summary>
    public required ImmutableArray<double> Weights { get; init; }

    /// <summary>Constant taken off, kg: the limit itself for a mass, zero for a share.</summary>
    public required double Constant { get; init; }

    /// <summary>The limit as people know it: 11 500 (kg), or 0.25 for a share.</summary>
    public required double Limit { get; init; }

    /// <summary>Where the limit comes from.</summary>
    public required LimitSource Source { get; init; }

    /// <summary>What passing it means.</summary>
    public required MarginStanding Standing { get; init; }

    /// <summary>True where the limit counts when configurations and remedies are chosen; a rule of the house does not.</summary>
    public bool Binds => Standing != MarginStanding.HouseRule;

    /// <summary>What a reader must know beside the figure: an assumption taken, another limit that yields to this one. May be empty.</summary>
    public string Note { get; init; } = "";

    /// <summary>True where both say the same.</summary>
    public bool IsSame(Margin other) => Key == other.Key && Weights.AsSpan().SequenceEqual(other.Weights.AsSpan()) && this == other with { Weights = Weights };
}

/// <summary>Identity of a limit within a combination, stable over configurations and restarts.</summary>
/// <param name="Kind">What kind of limit.</param>
/// <param name="Body">Body it belongs to; -1 for the combination.</param>
/// <param name="Element">
/// Axle of the combination; group: 0 front, 1 rear for all axles of that support on the road, a number for a part
/// of it that the law takes as a group of its own (<see cref="PartOfGroup"/>); coupling: 0 front, 1 rear; run of axles: both its ends in one; otherwise -1.
/// </param>
public readonly record struct MarginKey(MarginKind Kind, int Body, int Element) : IComparable<MarginKey>
{
    /// <summary>Of a run of axles: the first, counted through the combination.</summary>
    public int FirstOfRun => Element / Configuration.MostAxles;

    /// <summary>Of a run of axles: the last.</summary>
    public int LastOfRun => Element % Configuration.MostAxles;

    /// <summary>Key of a part of a support that the law takes as a group of its own: by its first axle, counted through the combination, and how many they are.</summary>
    public static MarginKey PartOfGroup(int body, int first, int axles) => new(MarginKind.Group, body, 2 + first + Configuration.MostAxles * (axles - 2));

    /// <summary>True for a whole support, front or rear; else a group is a part of one.</summary>
    public bool IsWholeGroup => Element < 2;

    /// <summary>Of a part of a support: its first axle.</summary>
    public int FirstOfGroup => (Element - 2) % Configuration.MostAxles;

    /// <summary>Key of a run of axles of the combination.</summary>
    public static MarginKey Run(int first, int last) => new(MarginKind.Bridge, -1, first * Configuration.MostAxles + last);

    /// <inheritdoc/>
    public int CompareTo(MarginKey other)
    {
        var order = ((int)Kind).CompareTo((int)other.Kind);
        if (order == 0) order = Body.CompareTo(other.Body);
        return order == 0 ? Element.CompareTo(other.Element) : order;
    }
}

/// <summary>What kind of limit a margin is.</summary>
public enum MarginKind
{
    /// <summary>Limit of one axle by law or by the vehicle's registered mass, whichever is stricter.</summary>
    Axle,

    /// <summary>Limit of an axle group by law or by the vehicle's registered mass, whichever is stricter.</summary>
    Group,

    /// <summary>Gross mass of one vehicle by law or as registered: what its own axles carry, and for a trailer what it puts on the vehicle ahead.</summary>
    Gross,

    /// <summary>Gross mass of the combination.</summary>
    CombinationGross,

    /// <summary>Least share of the combination's mass on the driving axles.</summary>
    DrivingShare,

    /// <summary>Least share of the powered vehicle's mass on its steered front axles: house rule 'light steer axle'.</summary>
    SteeringShare,

    /// <summary>Technically permissible mass of one axle, as rated by its maker.</summary>
    AxleRating,

    /// <summary>Load all tyres of an axle may carry.</summary>
    TyreRating,

    /// <summary>Least vertical load at a coupling.</summary>
    CouplingLeast,

    /// <summary>Greatest vertical load at a coupling.</summary>
    CouplingMost,

    /// <summary>Run of consecutive axles under a bridge formula: <see cref="MarginKey.FirstOfRun"/> to <see cref="MarginKey.LastOfRun"/>.</summary>
    Bridge,
}

/// <summary>What passing a limit means.</summary>
public enum MarginStanding
{
    /// <summary>The law, or the vehicle's papers: passing it surely is entered in the register.</summary>
    Law,

    /// <summary>A maker's rating or a coupling's range.</summary>
    Technical,

    /// <summary>A rule of this house: advice, never an infringement.</summary>
    HouseRule,
}

/// <summary>Where a limit comes from, and how far it may be trusted.</summary>
/// <param name="Title">The act or paper, for people.</param>
/// <param name="Clause">The place within it.</param>
/// <param name="AsOf">Date of the edition.</param>
/// <param name="Status">Whether it is known to hold.</param>
public sealed record LimitSource(string Title, string Clause, DateOnly AsOf, LimitStatus Status);

/// <summary>How far a limit's text may be trusted.</summary>
public enum LimitStatus
{
    /// <summary>In force on its date, source seen.</summary>
    InForce,

    /// <summary>An edition that nobody has verified.</summary>
    UnverifiedEdition,

    /// <summary>Known to be outdated.</summary>
    KnownOutdated,

    /// <summary>From the vehicle's own description.</summary>
    VehiclePapers,

    /// <summary>From a permit that the owner entered.</summary>
    Permit,
}
