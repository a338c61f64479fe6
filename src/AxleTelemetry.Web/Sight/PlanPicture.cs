using System.Collections.Immutable;
using AxleTelemetry.Domain.Loads;

namespace AxleTelemetry.Web.Sight;

/// <summary>What is asked of a plan. What is not set is as it is aboard now.</summary>
/// <param name="Vehicle">The powered vehicle.</param>
public sealed record PlanQuestion(VehicleName Vehicle)
{
    /// <summary>Whose payload varies; <c>null</c> where only one carries.</summary>
    public string? Of { get; init; }

    public double? Kilograms { get; init; }

    /// <summary>Centre of the stated payload along its body.</summary>
    public double? Metres { get; init; }
}

/// <summary>What came of asking.</summary>
public abstract record PlanAnswer
{
    private PlanAnswer() { }

    /// <summary>It is planned.</summary>
    public sealed record Planned(PlanPicture Picture) : PlanAnswer;

    /// <summary>It cannot be, and why, in a sentence; with the vehicles of which one must be chosen, if that is it.</summary>
    public sealed record Refused(string Why, ImmutableArray<string> Choices) : PlanAnswer;
}

/// <summary>Where payload may stand in every position of the lifts, and what a load does there.</summary>
public sealed record PlanPicture
{
    /// <summary>The vehicles, powered unit first.</summary>
    public required ImmutableArray<string> Vehicles { get; init; }

    /// <summary>Whose payload varies.</summary>
    public required string Of { get; init; }

    /// <summary>Those that carry payload.</summary>
    public required ImmutableArray<string> Carrying { get; init; }

    /// <summary>Beginning of the load space, m along the body.</summary>
    public required double Front { get; init; }

    /// <summary>Its end.</summary>
    public required double Rear { get; init; }

    /// <summary>By which limits, in a sentence.</summary>
    public required string Limits { get; init; }

    /// <summary>What the load is that was planned with, in words.</summary>
    public required string Source { get; init; }

    public required PlacedLoad Load { get; init; }

    /// <summary>Of a live load: the edge of what holds 95 %; empty where there is none.</summary>
    public required ImmutableArray<PlacedLoad> Edge { get; init; }

    /// <summary>Every position of the lifts.</summary>
    public required ImmutableArray<PlannedPosition> Positions { get; init; }

    /// <summary>Which position to drive in and why.</summary>
    public required string Right { get; init; }

    /// <summary>What to do where none is permitted.</summary>
    public required ImmutableArray<string> Remedies { get; init; }

    /// <summary>What raising or relieving does for moving off.</summary>
    public required ImmutableArray<string> MovingOff { get; init; }

    public required ImmutableArray<string> Assumptions { get; init; }
}

/// <summary>A payload with its centre at a place.</summary>
/// <param name="Metres">Along the body.</param>
/// <param name="Kilograms">How much.</param>
public readonly record struct PlacedLoad(double Metres, double Kilograms);

/// <summary>One position of the lifts.</summary>
public sealed record PlannedPosition
{
    public required string Words { get; init; }

    /// <summary>How the axles stand now.</summary>
    public required bool IsPresent { get; init; }

    /// <summary>The one to drive in with this load.</summary>
    public required bool IsRight { get; init; }

    /// <summary>The vehicle can stand so with this load.</summary>
    public required bool IsPossible { get; init; }

    public required bool IsPermitted { get; init; }

    public required bool IsSure { get; init; }

    /// <summary>What the load comes to, in words.</summary>
    public required string Verdict { get; init; }

    /// <summary>The greatest permitted payload anywhere; <c>null</c> where none is.</summary>
    public required PlacedLoad? Greatest { get; init; }

    /// <summary>Front to rear.</summary>
    public required ImmutableArray<PlannedStretch> Stretches { get; init; }

    /// <summary>Rules of the house, where they bound more.</summary>
    public required ImmutableArray<HouseStretch> House { get; init; }

    /// <summary>Room in a steady bend.</summary>
    public required string Turning { get; init; }

    /// <summary>Grades that can be moved off on: the road and how steep, in per cent.</summary>
    public required ImmutableArray<(string Surface, double Percent)> Grades { get; init; }

    /// <summary>Every limit with this load.</summary>
    public required ImmutableArray<PlannedLimit> Limits { get; init; }
}

/// <summary>A stretch of the load space on which the same limits bound the payload.</summary>
/// <param name="From">Foremost place, m.</param>
/// <param name="To">Rearmost place, m.</param>
public sealed record PlannedStretch(double From, double To)
{
    /// <summary>The curve above; empty where nothing is permitted.</summary>
    public required ImmutableArray<PlacedLoad> Most { get; init; }

    /// <summary>The curve below; empty where it may be empty.</summary>
    public required ImmutableArray<PlacedLoad> Least { get; init; }

    /// <summary>What bounds it above, or is passed by any payload, in words.</summary>
    public required string Bound { get; init; }

    /// <summary>What bounds it below, or is passed by less; <c>null</c> where nothing is.</summary>
    public required string? Against { get; init; }
}

/// <summary>A rule of the house where it bounds more than what binds.</summary>
public sealed record HouseStretch(double From, double To, ImmutableArray<PlacedLoad> Points, string Bound);

/// <summary>A limit with a load.</summary>
/// <param name="Name">What it limits.</param>
/// <param name="Limit">In kg; <c>null</c> for a share.</param>
/// <param name="Excess">By how much it is passed, kg; negative is room to spare.</param>
/// <param name="Condition">How sure that is.</param>
/// <param name="Source">Where it comes from.</param>
public sealed record PlannedLimit(string Name, double? Limit, Estimated Excess, Condition Condition, string Source)
{
    /// <summary>It must not be fallen below.</summary>
    public bool IsLeast { get; init; }
}
