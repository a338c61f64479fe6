using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Running;

/// <summary>Adds periods of many units up to an account: of each unit, and of each axle whoever pulled it.</summary>
public sealed class AccountBook
{
    /// <summary>Least distance from which is said whether a lift pays, m: below, a year is guessed from too little.</summary>
    public const double LeastToPay = 1_000_000;

    private readonly ImmutableSortedDictionary<VehicleName, UnitSum> _units;
    private readonly ImmutableSortedDictionary<(VehicleName Vehicle, int Index), AxleSum> _axles;

    private AccountBook(ImmutableSortedDictionary<VehicleName, UnitSum> units, ImmutableSortedDictionary<(VehicleName, int), AxleSum> axles) => (_units, _axles) = (units, axles);

    /// <summary>An account with nothing in it.</summary>
    public static AccountBook Empty { get; } = new(ImmutableSortedDictionary<VehicleName, UnitSum>.Empty, ImmutableSortedDictionary<(VehicleName, int), AxleSum>.Empty);

    /// <summary>With a period more.</summary>
    /// <param name="vehicles">The vehicles of the unit, powered one first.</param>
    /// <param name="combination">Their descriptions.</param>
    /// <param name="unit">Sums of the unit.</param>
    /// <param name="axles">Sums of its axles, front to rear.</param>
    public AccountBook With(ImmutableArray<VehicleName> vehicles, Combination combination, in UnitTally unit, ImmutableArray<AxleTally> axles)
    {
        var before = _units.GetValueOrDefault(vehicles[0]) ?? new UnitSum(default, []);
        var units = _units.SetItem(vehicles[0], new UnitSum(before.Tally.Plus(unit), AddUp(before.Axles, axles)));
        var all = _axles.ToBuilder();
        for (var a = 0; a < axles.Length && a < combination.Axles.Length; a++)
        {
            var part = combination.Axles[a];
            var key = (vehicles[part.Body], part.Index - combination.Bodies[part.Body].FirstAxle);
            var sum = all.GetValueOrDefault(key) ?? new AxleSum(part.Axle, default, default, []);
            all[key] = new AxleSum(part.Axle, sum.Tally.Plus(axles[a]), sum.Unit.Plus(unit), AddUp(sum.Unitwise, axles));
        }

        return new AccountBook(units, all.ToImmutable());
    }

    /// <summary>The units, in the order of their names.</summary>
    /// <param name="assumptions">What to reckon with, by fleet.</param>
    public IEnumerable<UnitAccount> Units(Func<string, Assumptions> assumptions) =>
        _units.Select(u => UnitAccount.Of(u.Key, u.Value.Tally, u.Value.Axles, assumptions(u.Key.Fleet)));

    /// <summary>The axles, in the order of vehicles and along each.</summary>
    /// <param name="assumptions">What to reckon with, by fleet.</param>
    /// <param name="kilometresPerYear">Distance of a year for the question whether a lift pays.</param>
    public IEnumerable<AxleAccount> Axles(Func<string, Assumptions> assumptions, double kilometresPerYear) =>
        _axles.Select(a => Of(a.Key.Vehicle, a.Value, assumptions(a.Key.Vehicle.Fleet), kilometresPerYear));

    private static AxleAccount Of(VehicleName vehicle, AxleSum sum, Assumptions assumptions, double kilometresPerYear)
    {
        var loads = LoadError.Of(sum.Unit);
        return new AxleAccount
        {
            Vehicle = vehicle,
            Axle = sum.Described.Key,
            Lifts = sum.Described.Lift is not null,
            Tally = sum.Tally,
            Saved = Value(sum.Tally.Saved, a => a.TyreJoulesLowered - a.TyreJoules),
            LoweredForNothing = Value(sum.Tally.LoweredForNothing, a => a.TyreJoules - a.TyreJoulesCheapest),
            RaisedForNothing = Value(sum.Tally.RaisedForNothing, a => a.TyreJoules - a.TyreJoulesCheapest),
            Pays = sum.Described.Lift is null || sum.Unit.KnownMetres < LeastToPay ? null : Pays(sum, assumptions, kilometresPerYear),
        };

        Valued Value(RoadWork work, Func<AxleTally, double> byAxle) => loads.In(work, Valuation.Of(work, assumptions, sum.Part(work, byAxle)), assumptions);
    }

    private static (LiftAnswer, LiftAnswer) Pays(AxleSum sum, Assumptions assumptions, double kilometresPerYear) => LiftableAxlePays.Answer(
        new LiftCase
        {
            Driven = sum.Unit.Driven with { Metres = sum.Unit.KnownMetres },
            Saved = sum.Tally.Saved with { Metres = sum.Unit.KnownMetres },
            SavedTyreJoules = [.. sum.Part(sum.Tally.Saved, a => a.TyreJoulesLowered - a.TyreJoules)],
            Gross = Mass.FromKilograms(sum.Unit.GrossMetres / sum.Unit.KnownMetres),
            KilometresPerYear = kilometresPerYear,
        }, assumptions);

    private static ImmutableArray<AxleTally> AddUp(ImmutableArray<AxleTally> a, ImmutableArray<AxleTally> b) =>
        [.. Enumerable.Range(0, Math.Max(a.Length, b.Length)).Select(i => i >= a.Length ? b[i] : i >= b.Length ? a[i] : a[i].Plus(b[i]))];

    private sealed record UnitSum(UnitTally Tally, ImmutableArray<AxleTally> Axles);

    private sealed record AxleSum(Axle Described, AxleTally Tally, UnitTally Unit, ImmutableArray<AxleTally> Unitwise)
    {
        /// <summary>What an axle's standing moves between the axles. With one lift it is all that moved in the unit; of several each has its part.</summary>
        public double[] Part(RoadWork work, Func<AxleTally, double> byAxle)
        {
            double[] moved = [.. Unitwise.Select(byAxle)];
            var all = moved.Sum();
            var part = all == 0 ? 1 : Math.Clamp(work.TyreJoules / all, 0, 1);
            return [.. moved.Select(m => part * m)];
        }
    }
}
