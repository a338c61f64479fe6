using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Service.Accuracy;

/// <summary>What came of one combination.</summary>
internal sealed record UnitResult
{
    public required UnitKind Kind { get; init; }

    public required string Id { get; init; }

    public required int Days { get; init; }

    /// <summary>Legs long enough to be judged.</summary>
    public required int Legs { get; init; }

    /// <summary>Legs on which nothing settled, or too little, or that were not followed with the right vehicles.</summary>
    public required int Unsettled { get; init; }

    public required ImmutableArray<LegFigure> Figures { get; init; }

    public required ImmutableArray<LegLimit> Limits { get; init; }

    public required ImmutableArray<LegAdvice> Advice { get; init; }

    /// <summary>Overloads told, each with all limits told together.</summary>
    public required ImmutableArray<ToldOverload> Told { get; init; }
}

/// <summary>A load stated on a leg beside the truth.</summary>
/// <param name="Class">What it rests on.</param>
/// <param name="Fill">Payload, as a fraction of the greatest that this combination carried.</param>
/// <param name="Stated">What was stated, kg.</param>
/// <param name="Truth">What it was, kg.</param>
/// <param name="Place">Which statement of the leg.</param>
/// <param name="Leg">Number of the leg, from 1.</param>
internal readonly record struct LegFigure(FigureClass Class, double Fill, Estimated Stated, double Truth, LegPlace Place, int Leg)
{
    public bool IsCovered => Math.Abs(Stated.Mean - Truth) <= Stated.HalfWidth;

    public double Error => Math.Abs(Stated.Mean - Truth);
}

/// <summary>Which statement of a leg.</summary>
internal enum LegPlace
{
    /// <summary>After its first settled reading.</summary>
    First,

    /// <summary>The last one.</summary>
    Last,
}

/// <summary>A limit that was truly passed on a leg.</summary>
/// <param name="Class">What the load on it rests on.</param>
/// <param name="Key">The limit.</param>
/// <param name="Size">Greatest excess while rolling, as a fraction of the limit.</param>
/// <param name="Told">True where an overload of it was told.</param>
/// <param name="CannotTell">True where it was said that this cannot be told.</param>
internal readonly record struct LegLimit(FigureClass Class, MarginKey Key, double Size, bool Told, bool CannotTell);

/// <summary>An overload that was told.</summary>
/// <param name="Key">The gravest limit.</param>
/// <param name="TrueSize">Greatest true excess over it from its beginning to its end, as a fraction of it; negative where it was never passed.</param>
/// <param name="StatedSize">What was stated at its peak.</param>
internal readonly record struct ToldOverload(MarginKey Key, double TrueSize, double StatedSize);

/// <summary>What was advised at the end of a leg beside what would have been right.</summary>
/// <param name="Right">What would have been right.</param>
/// <param name="Given">What was advised.</param>
/// <param name="WorksInTruth">False where what was advised would in truth leave a limit passed.</param>
internal readonly record struct LegAdvice(Advice Right, Advice Given, bool WorksInTruth)
{
    public bool IsRight => Right == Given && WorksInTruth;
}

/// <summary>What to do with the axles.</summary>
internal enum Advice
{
    /// <summary>Nothing: as it is.</summary>
    Leave,

    /// <summary>Down for nothing: raise.</summary>
    Raise,

    /// <summary>A limit is passed, and setting the axles otherwise ends it.</summary>
    SetAxles,

    /// <summary>A limit is passed in every configuration.</summary>
    Unload,

    /// <summary>None is given, and that is said: the interval is too wide to tell whether a limit is passed.</summary>
    CannotTell,
}
