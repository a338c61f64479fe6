using System.Collections.Immutable;
using AxleTelemetry.Service.Overview;

namespace AxleTelemetry.Service.Planning;

/// <summary>A plan for a program.</summary>
internal sealed record PlanDocument
{
    /// <summary>The vehicles coupled, powered unit first.</summary>
    public required ImmutableArray<string> Vehicles { get; init; }

    /// <summary>Whose payload the diagrams vary.</summary>
    public required string Of { get; init; }

    /// <summary>Where its load space begins, along its body.</summary>
    public required double FrontM { get; init; }

    /// <summary>Where it ends.</summary>
    public required double RearM { get; init; }

    /// <summary>By which limits, in words.</summary>
    public required string Limits { get; init; }

    /// <summary>Where the load comes from: <c>empty</c>, <c>stated</c>, <c>items</c>, <c>live</c>.</summary>
    public required string Source { get; init; }

    /// <summary>What a live load is worth, in words; absent for another.</summary>
    public string? SourceWords { get; init; }

    /// <summary>How the axles stand now, in words; absent for another.</summary>
    public string? Present { get; init; }

    /// <summary>Payload of the other vehicles that carry, held fixed.</summary>
    public required ImmutableArray<OtherPayloadDocument> Others { get; init; }

    /// <summary>Of a live load: the edge of what holds 95 %, places and payloads; empty where there is none to give.</summary>
    public required ImmutableArray<PlacedDocument> Edge { get; init; }

    /// <summary>Every position of the lifts.</summary>
    public required ImmutableArray<PlannedLiftsDocument> Configurations { get; init; }

    /// <summary>The load as it sets off, then after each drop.</summary>
    public required ImmutableArray<PlanStageDocument> Stages { get; init; }

    /// <summary>For each position of the lifts the first stage that is not permitted, in words; empty without drops.</summary>
    public required ImmutableArray<string> FirstFailures { get; init; }

    /// <summary>What raising or relieving an axle does to driving and steer axles, and what the moving-off aid allows, in words.</summary>
    public required ImmutableArray<string> MovingOff { get; init; }

    /// <summary>What was assumed, each with its status.</summary>
    public required ImmutableArray<string> Assumptions { get; init; }

    public required ImmutableArray<string> Cautions { get; init; }
}

/// <summary>Payload that does not vary.</summary>
internal sealed record OtherPayloadDocument(string Vehicle, double PayloadKg, double? CentreM);

/// <summary>A payload with its centre at a place.</summary>
internal sealed record PlacedDocument(double CentreM, double PayloadKg);

/// <summary>One position of the lifts, whatever the load.</summary>
/// <param name="Raised">Axles off the road, by their keys.</param>
/// <param name="Words">For people.</param>
/// <param name="Greatest">The greatest permitted payload anywhere; absent where none is.</param>
/// <param name="Stretches">Front to rear: by law, papers, ratings and couplings.</param>
/// <param name="WithHouseRules">The same with the rules of the house.</param>
/// <param name="Turning">Driving round within the ring of the Directive.</param>
internal sealed record PlannedLiftsDocument(
    ImmutableArray<string> Raised, string Words, PlacedDocument? Greatest, ImmutableArray<DiagramStretchDocument> Stretches, ImmutableArray<DiagramStretchDocument> WithHouseRules, TurningDocument Turning);

/// <summary>A stretch on which the same limits bound the payload P at a place x.</summary>
/// <param name="FromM">Foremost place.</param>
/// <param name="ToM">Rearmost place.</param>
/// <param name="Permitted">False where no payload is.</param>
/// <param name="Most">What bounds it above, or what is passed by any payload.</param>
/// <param name="Least">What bounds it below, or what is passed by less; absent where nothing does.</param>
/// <param name="MostPoints">The curve above; empty where nothing is permitted.</param>
/// <param name="LeastPoints">The curve below; empty where it may be empty.</param>
internal sealed record DiagramStretchDocument(
    double FromM, double ToM, bool Permitted, BoundDocument Most, BoundDocument? Least, ImmutableArray<PlacedDocument> MostPoints, ImmutableArray<PlacedDocument> LeastPoints);

/// <summary>What bounds a payload.</summary>
/// <param name="Limited">For people.</param>
/// <param name="Kind">What kind of limit; <c>cannot_stand</c> where a suspension or coupling would have to pull.</param>
/// <param name="Standing"><c>law</c>, <c>technical</c>, <c>house_rule</c>.</param>
/// <param name="Source">Where it comes from; absent where the vehicle could not stand.</param>
internal sealed record BoundDocument(string Limited, string Kind, string Standing, SourceDocument? Source);

/// <summary>Driving round with the front outer corner on the outer circle.</summary>
/// <param name="Passes">It stays within the ring; absent where that cannot be told.</param>
/// <param name="SweptWidthM">Width of the ring it sweeps.</param>
/// <param name="OffTrackingM">How far the last axle line runs inside the first axle.</param>
/// <param name="SpareM">Room to the inner circle; negative is what is missing.</param>
/// <param name="MostSlipDeg">Greatest slip angle of a fixed axle.</param>
/// <param name="Words">For people.</param>
internal sealed record TurningDocument(bool? Passes, double? SweptWidthM, double? OffTrackingM, double? SpareM, double? MostSlipDeg, string Words);

/// <summary>A stage of a trip.</summary>
/// <param name="Stage">Setting off, or after which drop, in words.</param>
/// <param name="PayloadKg">What is aboard.</param>
/// <param name="CentreM">Its centre; absent where there is nothing.</param>
/// <param name="Right">Which position of the lifts to drive in and why, in words.</param>
/// <param name="Configurations">Every position of the lifts.</param>
/// <param name="Remedies">What to do where none is permitted, best first, in words.</param>
internal sealed record PlanStageDocument(string Stage, double PayloadKg, double? CentreM, string Right, ImmutableArray<StagedLiftsDocument> Configurations, ImmutableArray<string> Remedies);

/// <summary>A stage in one position of the lifts.</summary>
internal sealed record StagedLiftsDocument
{
    /// <summary>Axles off the road, by their keys.</summary>
    public required ImmutableArray<string> Raised { get; init; }

    /// <summary>False where a suspension or coupling would have to pull: then there are no limits.</summary>
    public required bool Possible { get; init; }

    public required bool Permitted { get; init; }

    /// <summary>Permitted with 97.5 % for each limit, as far as vehicle and load are known.</summary>
    public required bool Sure { get; init; }

    /// <summary>The one to drive in.</summary>
    public required bool Right { get; init; }

    public required string Words { get; init; }

    /// <summary>Raised axles that their automatic control would set down.</summary>
    public required ImmutableArray<string> SetDown { get; init; }

    /// <summary>Force of rolling with hub and brake drag; absent where not possible.</summary>
    public double? RollingN { get; init; }

    /// <summary>Grades that can be moved off on.</summary>
    public required ImmutableArray<GradeDocument> MovingOff { get; init; }

    /// <summary>Every limit.</summary>
    public required ImmutableArray<LimitDocument> Limits { get; init; }
}

/// <summary>How steep a grade may be.</summary>
/// <param name="Surface">The road.</param>
/// <param name="Friction">Assumed for it.</param>
/// <param name="SteepestPercent">Rise over run; below zero not even on the level.</param>
/// <param name="EndedBy"><c>grip</c>, <c>front_lifts</c>.</param>
/// <param name="SteerKg">Load left on the front axles there.</param>
internal sealed record GradeDocument(string Surface, double Friction, double SteepestPercent, string EndedBy, double SteerKg);
