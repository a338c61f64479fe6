using AxleTelemetry.Domain.FittedTyres;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Running;
using Spectre.Console;
using static System.FormattableString;

namespace AxleTelemetry.Service.Accounting;

/// <summary>The account for a terminal.</summary>
internal static class AccountTables
{
    public static void Write(AccountFound found, Func<string, Assumptions> assumptions, double kilometresPerYear, IAnsiConsole console)
    {
        var sentences = console.Profile.Out.Writer;
        if (found.Periods == 0)
        {
            sentences.WriteLine("Nothing was driven in that span, or nothing is kept of it.");
            return;
        }

        sentences.WriteLine(Invariant($"{found.Periods} unit-days, {found.First} to {found.Last}. Give or take: 95 %. Money in {string.Join(", ", found.Book.Units(assumptions).Select(u => u.Driven.Currency).Distinct())}."));
        if (found.Unknown > 0) sentences.WriteLine(Invariant($"{found.Unknown} more are left out: their vehicles cannot be told any more."));
        console.Write(Units(found.Book.Units(assumptions)));
        console.Write(Lifts(found.Book.Axles(assumptions, kilometresPerYear)));
        console.Write(Axles(found.Book.Axles(assumptions, kilometresPerYear)));
        foreach (var pays in found.Book.Axles(assumptions, kilometresPerYear).Select(a => PaysText.Of(a, kilometresPerYear)).OfType<string>()) sentences.WriteLine(pays);
        foreach (var remark in AccountDocument.Remarks) sentences.WriteLine(remark);
    }

    private static Table Units(IEnumerable<UnitAccount> units)
    {
        var table = Framed("Unit", "km", "with\nloads", "over a\nlimit km", "cannot\ntell km", "rolling\nl", "saved by\nlifting l", "without\nhubs l", "wasted\nl", "saved\nmoney", "wasted\nmoney", "road wear\nAASHTO");
        foreach (var u in units)
            table.AddRow(
                $"{u.Unit.Fleet}/{u.Unit.Id}", Km(u.Tally.Metres), u.Tally.Metres > 0 ? Invariant($"{u.Tally.KnownMetres / u.Tally.Metres:0 %}") : "-", Km(u.Tally.OverMetres), Km(u.Tally.CannotTellMetres),
                Amount(u.Driven.All.Litres, 0), Amount(u.Saved.All.Litres), Amount(u.Saved.WithoutHubs.Litres), Amount(u.Wasted.All.Litres), Amount(u.Saved.All.Money), Amount(u.Wasted.All.Money),
                u.Tally.KnownMetres > 0 ? Invariant($"{u.Tally.Aashto / u.Tally.KnownMetres:0.00}") : "-");
        return table;
    }

    private static Table Lifts(IEnumerable<AxleAccount> axles)
    {
        var table = Framed("Liftable axle", "on road\nkm", "raised\nkm", "saved by\nlifting l", "without\nhubs l", "saved\nmoney", "lowered for\nnothing km", "it cost\nmoney", "raised where\nit harms km", "it cost\nmoney", "times\nraised", "s to\nraise", "s to\nlower");
        foreach (var a in axles.Where(a => a.Lifts))
            table.AddRow(
                Name(a), Km(a.Tally.GroundMetres), Km(a.Tally.RaisedMetres), Amount(a.Saved.All.Litres), Amount(a.Saved.WithoutHubs.Litres), Amount(a.Saved.All.Money),
                Km(a.Tally.LoweredForNothing.Metres), Amount(a.LoweredForNothing.All.Money), Km(a.Tally.RaisedForNothing.Metres), Amount(a.RaisedForNothing.All.Money),
                Invariant($"{a.Tally.Raises:0}"), Mean(a.Tally.RaiseSeconds, a.Tally.TimedRaises), Mean(a.Tally.LowerSeconds, a.Tally.TimedLowers));
        return table;
    }

    private static Table Axles(IEnumerable<AxleAccount> axles)
    {
        var table = Framed("Axle", "on road\nkm", "mean\nload t", "load\nt km", "scrub\nMJ", "tread\nMN m", "above 95 %\nh", "left\nheavier", "road wear\n4th power km");
        foreach (var a in axles)
            table.AddRow(
                Name(a), Km(a.Tally.GroundMetres), Mean(a.Tally.LoadMetres / 1000, a.Tally.KnownMetres), Invariant($"{a.Tally.LoadMetres / 1e6:#,0}"), Invariant($"{a.Tally.ScrubJoules / 1e6:0.0}"),
                Invariant($"{a.Tally.Tread:0.0}"), Invariant($"{a.Tally.HighSeconds / 3600:0.0}"), a.Tally.SidesMetres > 0 ? Invariant($"{a.Tally.LeftMetres / a.Tally.SidesMetres:+0.0 %;-0.0 %;0.0 %}") : "-",
                Invariant($"{a.Tally.FourthPower / 1000:#,0}"));
        return table;
    }

    /// <summary>The tyres, and how many days of axles belong to none that was recorded.</summary>
    public static void Write(TyreAccount tyres, IAnsiConsole console)
    {
        var table = Framed("Tyre", "km", "load\nt km", "tread\nMN m", "scrub\nMJ", "retreads", "since retread\nkm", "load\nt km", "tread\nMN m");
        foreach (var t in tyres.Tyres)
            table.AddRow(
                t.Tyre, Km(t.Whole.Metres), Invariant($"{t.Whole.KilogramMetres / 1e6:#,0}"), Invariant($"{t.Whole.Tread:0.0}"), Invariant($"{t.Whole.ScrubJoules / 1e6:0.0}"),
                Invariant($"{t.Retreads}"), Km(t.SinceRetread.Metres), Invariant($"{t.SinceRetread.KilogramMetres / 1e6:#,0}"), Invariant($"{t.SinceRetread.Tread:0.0}"));
        console.Write(table);
        if (!tyres.Unclaimed.IsEmpty) console.Profile.Out.Writer.WriteLine(Invariant($"{tyres.Unclaimed.Length} days of axles have no recorded tyre."));
    }

    private static string Name(AxleAccount a) => $"{a.Vehicle.Fleet}/{a.Vehicle.Id} {a.Axle}";

    private static string Km(double metres) => Invariant($"{metres / 1000:#,0}");

    private static string Mean(double sum, double of) => of > 0 ? Invariant($"{sum / of:0.0}") : "-";

    private static string Amount(Estimated value, int digits = 1) => digits == 0
        ? Invariant($"{Zero(value.Mean):#,0} +-{value.HalfWidth:#,0}") : Invariant($"{Zero(value.Mean):#,0.0} +-{value.HalfWidth:#,0.0}");

    private static double Zero(double value) => Math.Abs(value) < 0.05 ? 0 : value;

    private static Table Framed(string first, params string[] numbers)
    {
        var table = new Table().Border(TableBorder.Simple).AddColumn(new TableColumn(first).NoWrap());
        foreach (var name in numbers) table.AddColumn(new TableColumn(name).RightAligned().NoWrap());
        foreach (var column in table.Columns) column.PadLeft(0).PadRight(1);
        return table;
    }
}

/// <summary>Whether a lift pays, in a sentence.</summary>
internal static class PaysText
{
    public static string? Of(AxleAccount account, double kilometresPerYear)
    {
        if (!account.Lifts) return null;
        var name = $"{account.Vehicle.Fleet}/{account.Vehicle.Id} {account.Axle}";
        if (account.Pays is not { } pays) return $"{name}: too little was driven to say whether the lift pays.";
        var net = pays.All.NetPerYear;
        var even = pays.All.BreakEven is BreakEven.From from ? Invariant($"it pays from {from.Kilometres:#,0} km a year on") : "on this work it pays on no distance";
        return Invariant($"{name}: at {kilometresPerYear:#,0} km a year the lift {(net.Mean >= 0 ? "earns" : "costs")} {Math.Abs(net.Mean):#,0} {pays.All.Currency} (give or take {net.HalfWidth:#,0}; {pays.WithoutHubs.NetPerYear.Mean:#,0} without hub drag), pays with probability {pays.All.Probability:0 %}; {even}.");
    }
}
