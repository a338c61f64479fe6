using System.Collections.Immutable;
using AxleTelemetry.Domain.FittedTyres;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Running;

namespace AxleTelemetry.Service.Accounting;

/// <summary>The running account of a span, for programs.</summary>
internal sealed record AccountDocument(
    Moment? From, Moment? To, int Periods, int PeriodsLeftOut, double KilometresPerYear, ImmutableArray<UnitAccountDocument> Units, ImmutableArray<AxleAccountDocument> Axles,
    ImmutableArray<AssumedDocument> Assumptions, ImmutableArray<string> Cautions)
{
    /// <summary>Every tyre that was recorded; absent where no record of tyres was given.</summary>
    public ImmutableArray<TyreDocument>? Tyres { get; init; }

    /// <summary>Days of axles that nobody recorded a tyre on; absent where no record was given.</summary>
    public int? AxleDaysWithoutTyres { get; init; }

    public static AccountDocument Of(AccountFound found, Func<string, Assumptions> assumptions, double kilometresPerYear)
    {
        ImmutableArray<UnitAccount> units = [.. found.Book.Units(assumptions)];
        return new(
            found.First, found.Last, found.Periods, found.Unknown, kilometresPerYear, [.. units.Select(UnitAccountDocument.Of)],
            [.. found.Book.Axles(assumptions, kilometresPerYear).Select(AxleAccountDocument.Of)],
            [.. units.Select(u => u.Unit.Fleet).Distinct().SelectMany(f => AssumedDocument.All(f, assumptions(f)))], Remarks);
    }

    /// <summary>To stand beside every account.</summary>
    public static ImmutableArray<string> Remarks { get; } =
    [
        "Estimates from on-board loads: no invoice, no weighing.",
        "Rolling, hub drag and scrub only: air, hills, engine and brakes are left out, as no lift changes them.",
        "Periods are days in UTC.",
    ];
}

/// <summary>A figure with its 95 % interval.</summary>
internal sealed record Figure(double Mean, double Low, double High)
{
    public static Figure Of(Estimated value) => new(Rounded(value.Mean), Rounded(value.Low), Rounded(value.High));

    public static double Rounded(double value) => Math.Round(value, 3) is var rounded && rounded == 0 ? 0 : rounded;
}

/// <summary>Work with its price.</summary>
internal sealed record ValuedDocument(string Currency, AmountsDocument All, AmountsDocument WithoutHubDrag)
{
    public static ValuedDocument Of(Valued valued) => new(valued.Currency, AmountsDocument.Of(valued.All), AmountsDocument.Of(valued.WithoutHubs));
}

/// <summary>What work comes to.</summary>
internal sealed record AmountsDocument(Figure FuelL, Figure Co2TankToWheelKg, Figure Co2WellToWheelKg, Figure FuelMoney, Figure TyreMoney, Figure Money)
{
    public static AmountsDocument Of(Amounts a) => new(
        Figure.Of(a.Litres), Figure.Of(a.TankToWheelKilograms), Figure.Of(a.WellToWheelKilograms), Figure.Of(a.FuelMoney), Figure.Of(a.TyreMoney), Figure.Of(a.Money));
}

/// <summary>A unit.</summary>
internal sealed record UnitAccountDocument
{
    public required string Fleet { get; init; }

    public required string Vehicle { get; init; }

    public required double Km { get; init; }

    public required double RollingH { get; init; }

    /// <summary>With loads known: costs are of this distance.</summary>
    public required double KnownKm { get; init; }

    /// <summary>With curvature known: scrub is of this distance.</summary>
    public required double CurvatureKnownKm { get; init; }

    public required double OverALimitKm { get; init; }

    public required double CannotTellKm { get; init; }

    public required double? MeanGrossKg { get; init; }

    public required ValuedDocument Driven { get; init; }

    public required ValuedDocument SavedByLifting { get; init; }

    public required ValuedDocument Wasted { get; init; }

    /// <summary>Standard axles a pass, full AASHTO equation, mean over the distance.</summary>
    public required double? RoadWearAashto { get; init; }

    /// <summary>The same, had every axle been lowered.</summary>
    public required double? RoadWearAashtoLowered { get; init; }

    /// <summary>Standard axles a pass, plain fourth power.</summary>
    public required double? RoadWearFourthPower { get; init; }

    public static UnitAccountDocument Of(UnitAccount account)
    {
        var tally = account.Tally;
        return new()
        {
            Fleet = account.Unit.Fleet,
            Vehicle = account.Unit.Id,
            Km = Figure.Rounded(tally.Metres / 1000),
            RollingH = Figure.Rounded(tally.Seconds / 3600),
            KnownKm = Figure.Rounded(tally.KnownMetres / 1000),
            CurvatureKnownKm = Figure.Rounded(tally.CurveMetres / 1000),
            OverALimitKm = Figure.Rounded(tally.OverMetres / 1000),
            CannotTellKm = Figure.Rounded(tally.CannotTellMetres / 1000),
            MeanGrossKg = Mean(tally.GrossMetres),
            Driven = ValuedDocument.Of(account.Driven),
            SavedByLifting = ValuedDocument.Of(account.Saved),
            Wasted = ValuedDocument.Of(account.Wasted),
            RoadWearAashto = Mean(tally.Aashto),
            RoadWearAashtoLowered = Mean(tally.AashtoLowered),
            RoadWearFourthPower = Mean(tally.FourthPower),
        };

        double? Mean(double sum) => tally.KnownMetres > 0 ? Figure.Rounded(sum / tally.KnownMetres) : null;
    }
}

/// <summary>An axle.</summary>
internal sealed record AxleAccountDocument
{
    public required string Fleet { get; init; }

    public required string Vehicle { get; init; }

    public required string Axle { get; init; }

    public required bool Lifts { get; init; }

    public required double OnRoadKm { get; init; }

    public required double RaisedKm { get; init; }

    public required double LoadTkm { get; init; }

    public required double? MeanLoadKg { get; init; }

    public required double ScrubMj { get; init; }

    public required double TreadMnM { get; init; }

    public required double RoadWearFourthPowerKm { get; init; }

    /// <summary>Rolling with more than 95 % of the rating of axle or tyres.</summary>
    public required double Above95PercentH { get; init; }

    public required int Raises { get; init; }

    public required double? MeanSecondsToRaise { get; init; }

    public required int Lowers { get; init; }

    public required double? MeanSecondsToLower { get; init; }

    /// <summary>Left less right, as a percentage of both; where each side has a circuit.</summary>
    public required double? LeftHeavierPercent { get; init; }

    public required ValuedDocument SavedByLifting { get; init; }

    public required ValuedDocument LoweredForNothing { get; init; }

    public required ValuedDocument RaisedForNothing { get; init; }

    public required PaysDocument? Pays { get; init; }

    public static AxleAccountDocument Of(AxleAccount account)
    {
        var t = account.Tally;
        return new()
        {
            Fleet = account.Vehicle.Fleet,
            Vehicle = account.Vehicle.Id,
            Axle = account.Axle,
            Lifts = account.Lifts,
            OnRoadKm = Figure.Rounded(t.GroundMetres / 1000),
            RaisedKm = Figure.Rounded(t.RaisedMetres / 1000),
            LoadTkm = Figure.Rounded(t.LoadMetres / 1e6),
            MeanLoadKg = Ratio(t.LoadMetres, t.KnownMetres),
            ScrubMj = Figure.Rounded(t.ScrubJoules / 1e6),
            TreadMnM = Figure.Rounded(t.Tread),
            RoadWearFourthPowerKm = Figure.Rounded(t.FourthPower / 1000),
            Above95PercentH = Figure.Rounded(t.HighSeconds / 3600),
            Raises = (int)t.Raises,
            MeanSecondsToRaise = Ratio(t.RaiseSeconds, t.TimedRaises),
            Lowers = (int)t.Lowers,
            MeanSecondsToLower = Ratio(t.LowerSeconds, t.TimedLowers),
            LeftHeavierPercent = Ratio(100 * t.LeftMetres, t.SidesMetres),
            SavedByLifting = ValuedDocument.Of(account.Saved),
            LoweredForNothing = ValuedDocument.Of(account.LoweredForNothing),
            RaisedForNothing = ValuedDocument.Of(account.RaisedForNothing),
            Pays = account.Pays is { } pays ? PaysDocument.Of(pays.All, pays.WithoutHubs) : null,
        };
    }

    private static double? Ratio(double sum, double of) => of > 0 ? Figure.Rounded(sum / of) : null;
}

/// <summary>Whether a lift pays.</summary>
/// <param name="NetPerYear">Fuel and tyres saved in a year less price, interest, upkeep: it pays where positive.</param>
/// <param name="Probability">That it pays.</param>
/// <param name="NetPerYearWithoutHubDrag">With hubs and brakes that drag nothing.</param>
/// <param name="BreakEvenKmPerYear">From how many kilometres a year; <c>null</c>: on none.</param>
internal sealed record PaysDocument(string Currency, Figure NetPerYear, double Probability, Figure NetPerYearWithoutHubDrag, double? BreakEvenKmPerYear)
{
    public static PaysDocument Of(LiftAnswer all, LiftAnswer withoutHubs) => new(
        all.Currency, Figure.Of(all.NetPerYear), Figure.Rounded(all.Probability), Figure.Of(withoutHubs.NetPerYear),
        all.BreakEven is BreakEven.From from ? Figure.Rounded(from.Kilometres) : null);
}

/// <summary>A tyre's exposure, on whatever axles it was.</summary>
internal sealed record TyreDocument(string Tyre, int Retreads, DateOnly? RetreadedOn, ExposureDocument Whole, ExposureDocument SinceRetread)
{
    public static TyreDocument Of(TyreLife life) => new(life.Tyre, life.Retreads, life.RetreadedOn, ExposureDocument.Of(life.Whole), ExposureDocument.Of(life.SinceRetread));
}

/// <summary>What a tyre went through.</summary>
internal sealed record ExposureDocument(double Km, double LoadTkm, double TreadMnM, double ScrubMj)
{
    public static ExposureDocument Of(TyreExposure e) =>
        new(Figure.Rounded(e.Metres / 1000), Figure.Rounded(e.KilogramMetres / 1e6), Figure.Rounded(e.Tread), Figure.Rounded(e.ScrubJoules / 1e6));
}

/// <summary>One assumption.</summary>
internal sealed record AssumedDocument(string Fleet, string Name, double Value, double Sd, string Unit, string Source, string Status)
{
    public static IEnumerable<AssumedDocument> All(string fleet, Assumptions assumptions) => AssumptionTerm.All.Select(t => (Term: t, Assumed: assumptions[t.Assumption])).Select(a => new AssumedDocument(fleet, a.Term.Key, a.Assumed.Value, a.Assumed.Sd, a.Assumed.Unit, a.Assumed.Source, Serving.JsonText.Word(a.Assumed.Status)));
}
