using System.Collections.Immutable;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Running;

/// <summary>What running a powered vehicle with its trailers cost over a span, valued.</summary>
public sealed record UnitAccount
{
    /// <summary>The powered vehicle.</summary>
    public required VehicleName Unit { get; init; }

    /// <summary>Sums.</summary>
    public required UnitTally Tally { get; init; }

    /// <summary>What rolling and scrub cost as driven. Air, hills and engine are not in it: no lift changes them.</summary>
    public required Valued Driven { get; init; }

    /// <summary>Saved by lifting, against every axle lowered all the time; negative where it cost more.</summary>
    public required Valued Saved { get; init; }

    /// <summary>Wasted against the cheapest configuration that was permitted: lowered for nothing and raised for nothing together.</summary>
    public required Valued Wasted { get; init; }

    /// <summary>Values sums of a unit.</summary>
    /// <param name="unit">The powered vehicle.</param>
    /// <param name="tally">The sums.</param>
    /// <param name="axles">Sums of every axle that rolled with it.</param>
    /// <param name="assumptions">What to reckon with.</param>
    public static UnitAccount Of(VehicleName unit, in UnitTally tally, IReadOnlyCollection<AxleTally> axles, Assumptions assumptions)
    {
        var loads = LoadError.Of(tally);
        return new UnitAccount
        {
            Unit = unit,
            Tally = tally,
            Driven = loads.In(tally.Driven, Valuation.Of(tally.Driven, assumptions, [.. axles.Select(a => a.TyreJoules)]), assumptions),
            Saved = Difference(tally.Lowered - tally.Driven, axles.Select(a => a.TyreJoulesLowered - a.TyreJoules)),
            Wasted = Difference(tally.Driven - tally.Cheapest, axles.Select(a => a.TyreJoules - a.TyreJoulesCheapest)),
        };

        Valued Difference(RoadWork work, IEnumerable<double> byAxle) => loads.In(work, Valuation.Of(work, assumptions, [.. byAxle]), assumptions);
    }
}

/// <summary>What one axle went through over a span, valued. An axle of a trailer is accounted for whichever unit pulled it.</summary>
public sealed record AxleAccount
{
    /// <summary>The vehicle it belongs to.</summary>
    public required VehicleName Vehicle { get; init; }

    /// <summary>Its key in the description.</summary>
    public required string Axle { get; init; }

    /// <summary>True where it has a lift.</summary>
    public required bool Lifts { get; init; }

    /// <summary>Sums.</summary>
    public required AxleTally Tally { get; init; }

    /// <summary>Saved by its being raised.</summary>
    public required Valued Saved { get; init; }

    /// <summary>Wasted by running with it lowered although raised was permitted and cheaper.</summary>
    public required Valued LoweredForNothing { get; init; }

    /// <summary>Wasted by running with it raised; negative where that was saved at the expense of a limit.</summary>
    public required Valued RaisedForNothing { get; init; }

    /// <summary>Whether the lift pays; <c>null</c> for an axle without one, or where too little was driven to tell.</summary>
    public (LiftAnswer All, LiftAnswer WithoutHubs)? Pays { get; init; }
}

/// <summary>The part of a spread that not knowing the loads exactly brings: rolling resistance goes nearly in proportion to them.</summary>
/// <param name="Relative">Standard deviation of the gross mass as a fraction of it.</param>
internal readonly record struct LoadError(double Relative)
{
    public static LoadError Of(in UnitTally tally) => new(tally.GrossMetres > 0 ? tally.GrossSdMetres / tally.GrossMetres : 0);

    public Valued In(in RoadWork work, Valued valued, Assumptions assumptions)
    {
        var moved = Valuation.Of(new RoadWork(work.Metres, work.TyreJoules * Relative, 0, work.ScrubJoules * Relative, 0), assumptions).All;
        return valued with { All = Wider(valued.All, moved), WithoutHubs = Wider(valued.WithoutHubs, moved) };
    }

    private static Amounts Wider(Amounts amounts, Amounts moved) => new(
        Wider(amounts.Litres, moved.Litres), Wider(amounts.TankToWheelKilograms, moved.TankToWheelKilograms), Wider(amounts.WellToWheelKilograms, moved.WellToWheelKilograms),
        Wider(amounts.FuelMoney, moved.FuelMoney), amounts.TyreMoney, Wider(amounts.Money, moved.Money));

    private static Estimated Wider(Estimated value, Estimated moved) => value with { Sd = Math.Sqrt(value.Sd * value.Sd + moved.Mean * moved.Mean) };
}
