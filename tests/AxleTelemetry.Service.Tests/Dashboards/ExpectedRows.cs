using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Tests.Series;

namespace AxleTelemetry.Service.Tests.Dashboards;

/// <summary>The rows that each query must give, reckoned from the history in force; a query that is not here fails its test.</summary>
internal static class ExpectedRows
{
    private static readonly TimeSpan Day = TimeSpan.FromDays(1);

    private static readonly Dictionary<string, Func<HistoryFacts, Looking, IEnumerable<string>>> ByQuery = new(StringComparer.Ordinal)
    {
        ["live: Found and not ended: A"] = (h, l) => h.Episodes.Where(e => e.ClosedAt is null && e.Level is Level.Likely or Level.Surely && e.Key.Finding.Kind != FindingKind.CannotTell && l.Chose("fleet", e.Key.Unit.Fleet))
            .Select(e => Line(At(e), e.Key.Unit.Fleet, e.Key.Unit.Id, JsonText.Word(e.Key.Finding.Kind), JsonText.Word(e.Level), h.About(e), Excess(e) / 1000, Limit(e) / 1000)),
        ["live: Limits that cannot be told: A"] = (h, l) => h.Episodes.Where(e => e.ClosedAt is null && e.Key.Finding.Kind == FindingKind.CannotTell && l.Chose("fleet", e.Key.Unit.Fleet))
            .GroupBy(e => e.Key.Unit).Select(g => Line(0, g.Count(), g.Key.Fleet, g.Key.Id)),
        ["live: Axles with least to spare: A"] = (h, l) => h.Axles.Where(a => a is { Load: not null, Limit: not null } && l.Holds(a.At) && l.Chose("fleet", a.Name.Fleet)).GroupBy(a => a.Name).Select(g => g.MaxBy(a => a.At.UnixMilliseconds)!)
            .Select(a => Line(From(l), (a.Limit!.Value - a.Load!.Value.Mean) / 1000, a.Name.Fleet, a.Name.Unit, a.Name.Vehicle, a.Name.Axle, a.Load.Value.Mean / 1000, a.Limit.Value / 1000)),
        ["live: Axle $axle of $vehicle: A"] = (h, l) => OfAxle(h, l).Where(a => a.Load is not null).GroupBy(a => (a.Name.Fleet, Piece: Looking.Piece(a.At, l.Interval)))
            .Select(g => Line(g.Key.Fleet, g.Key.Piece, g.Average(a => a.Load!.Value.Mean) / 1000, g.Min(a => a.Load!.Value.Low) / 1000, g.Max(a => a.Load!.Value.High) / 1000)),
        ["live: Axle $axle of $vehicle: B"] = (h, l) => AxleLimits(h, l, l.Interval),
        ["live: Gross of $vehicle: A"] = (h, l) => OfUnit(h, l).GroupBy(g => (g.Fleet, Piece: Looking.Piece(g.At, l.Interval)))
            .Select(g => Line(g.Key.Fleet, g.Key.Piece, g.Average(x => x.Gross.Mean) / 1000, g.Min(x => x.Gross.Low) / 1000, g.Max(x => x.Gross.High) / 1000)),
        ["live: Gross of $vehicle: B"] = (h, l) => OfUnit(h, l).Where(g => g.Limit is not null).GroupBy(g => (g.Fleet, Piece: Looking.Piece(g.At, l.Interval))).Select(g => Line(g.Key.Fleet, g.Key.Piece, g.Min(x => x.Limit!.Value) / 1000)),
        ["live: Where each axle of $vehicle is: A"] = (h, l) => h.Axles.Where(a => l.Holds(a.At) && IsChosen(a.Name, l)).GroupBy(a => (a.Name.Axle, a.Name.Fleet, Piece: Looking.Piece(a.At, l.Interval)))
            .Select(g => Line(g.Key.Axle, g.Key.Fleet, g.Key.Piece, g.Max(a => a.Position))),

        ["exposure: Axles that ran longest near a rating: A"] = (h, l) => h.Days.Where(d => l.Holds(d.At) && l.Chose("fleet", d.Name.Fleet)).GroupBy(d => (d.Name.Fleet, d.Name.Vehicle, d.Name.Axle)).Select(g => Line(
            From(l), Sum(g, d => d.HighSeconds) / 3600, g.Key.Fleet, g.Key.Vehicle, g.Key.Axle, MeanTonnes(g), Sum(g, d => d.GroundMetres) / 1000, Sum(g, d => d.RaisedMetres) / 1000, Sum(g, d => d.Tread), Sum(g, d => d.ScrubJoules) / 1e6, Sum(g, d => d.Raises), Sum(g, d => d.Lowers))),
        ["exposure: Axle $axle of $vehicle: mean load: A"] = (h, l) => OfDays(h, l).Where(d => d.Tally.KnownMetres > 0 && l.Chose("axle", d.Name.Axle)).GroupBy(d => (d.Name.Fleet, Piece: Looking.Piece(d.At, Day))).Select(g => Line(g.Key.Fleet, g.Key.Piece, MeanTonnes(g))),
        ["exposure: Axle $axle of $vehicle: mean load: B"] = (h, l) => AxleLimits(h, l, Day),
        ["exposure: Axle $axle of $vehicle: kilometres: A"] = (h, l) => OfDays(h, l).Where(d => l.Chose("axle", d.Name.Axle)).GroupBy(d => (d.Name.Fleet, Piece: Looking.Piece(d.At, Day)))
            .Select(g => Line(g.Key.Fleet, g.Key.Piece, Sum(g, d => d.GroundMetres) / 1000, Sum(g, d => d.RaisedMetres) / 1000)),
        ["exposure: Near a rating, by axle of $vehicle: A"] = (h, l) => ByAxle(h, l, d => d.HighSeconds / 3600),
        ["exposure: Lifts, by axle of $vehicle: A"] = (h, l) => ByAxle(h, l, d => d.Raises),
        ["exposure: Tread energy, by axle of $vehicle: A"] = (h, l) => ByAxle(h, l, d => d.Tread),
        ["exposure: Slip in bends, by axle of $vehicle: A"] = (h, l) => ByAxle(h, l, d => d.ScrubJoules / 1e6),

        ["overloads: Overloads by day: A"] = (h, l) => Counted(h, l, Level.Surely),
        ["overloads: Overloads by day: B"] = (h, l) => Counted(h, l, Level.Likely),
        ["overloads: Vehicles most often over: A"] = (h, l) => Overloads(h, l).Where(e => e.Reached == Level.Surely).GroupBy(e => e.Key.Unit).Select(g => Line(
            From(l), g.Count(), g.Key.Fleet, g.Key.Id, g.Max(Excess) / 1000, g.Sum(Lasted) / 3600)),
        ["overloads: Over by how much of the limit: A"] = (h, l) => Overloads(h, l).Where(e => e.Reached == Level.Surely && Limit(e) > 0).Select(e => Line(At(e), Excess(e) / Limit(e))),
        ["overloads: Overloads: A"] = (h, l) => Overloads(h, l).Where(e => e.Reached is Level.Likely or Level.Surely)
            .Select(e => Line(At(e), e.Key.Unit.Fleet, e.Key.Unit.Id, h.About(e), JsonText.Word(e.Reached), Excess(e) / 1000, Limit(e) / 1000, Lasted(e), e.ClosedAt is null)),
    };

    /// <summary>Names of the queries that are told here.</summary>
    public static IEnumerable<string> Names => ByQuery.Keys;

    public static List<string> Of(PanelQuery query, HistoryFacts history, Looking look) => [.. ByQuery[query.ToString()](history, look).Order(StringComparer.Ordinal)];

    private static IEnumerable<AxleFact> OfAxle(HistoryFacts h, Looking l) => h.Axles.Where(a => l.Holds(a.At) && IsChosen(a.Name, l) && l.Chose("axle", a.Name.Axle));

    private static IEnumerable<string> AxleLimits(HistoryFacts h, Looking l, TimeSpan piece) => OfAxle(h, l).Where(a => a is { Load: not null, Limit: not null })
        .GroupBy(a => (a.Name.Fleet, Piece: Looking.Piece(a.At, piece))).Select(g => Line(g.Key.Fleet, g.Key.Piece, g.Min(a => a.Limit!.Value) / 1000));

    private static IEnumerable<GrossFact> OfUnit(HistoryFacts h, Looking l) => h.Gross.Where(g => l.Holds(g.At) && l.Chose("vehicle", g.Unit) && l.Chose("fleet", g.Fleet));

    private static IEnumerable<DayFact> OfDays(HistoryFacts h, Looking l) => h.Days.Where(d => l.Holds(d.At) && IsChosen(d.Name, l));

    private static IEnumerable<string> ByAxle(HistoryFacts h, Looking l, Func<Domain.Running.AxleTally, double> of) => OfDays(h, l)
        .GroupBy(d => (d.Name.Axle, d.Name.Fleet, Piece: Looking.Piece(d.At, Day))).Select(g => Line(g.Key.Axle, g.Key.Fleet, g.Key.Piece, Sum(g, of)));

    private static IEnumerable<HistoryRow.Episode> Overloads(HistoryFacts h, Looking l) =>
        h.Episodes.Where(e => e.Key.Finding.Kind == FindingKind.Overload && l.Holds(e.Key.At) && l.Chose("vehicle", e.Key.Unit.Id) && l.Chose("fleet", e.Key.Unit.Fleet));

    private static IEnumerable<string> Counted(HistoryFacts h, Looking l, Level reached) =>
        Overloads(h, l).Where(e => e.Reached == reached).GroupBy(e => Looking.Piece(e.Key.At, Day)).Select(g => Line(g.Key, g.Count()));

    private static bool IsChosen(AxleName name, Looking l) => l.Chose("vehicle", name.Vehicle) && l.Chose("fleet", name.Fleet);

    private static double Sum(IEnumerable<DayFact> days, Func<Domain.Running.AxleTally, double> of) => days.Sum(d => of(d.Tally));

    // Nothing divided by nothing is nothing there.
    private static double MeanTonnes(IEnumerable<DayFact> days) => Sum(days, d => d.KnownMetres) is > 0 and var known ? Sum(days, d => d.LoadMetres) / known / 1000 : 0;

    private static double Excess(HistoryRow.Episode row) => row.Subject is EpisodeSubject.Limit limit ? limit.Peak.Mean : 0;

    private static double Limit(HistoryRow.Episode row) => row.Subject is EpisodeSubject.Limit limit ? limit.Scale : 0;

    private static double Lasted(HistoryRow.Episode row) => row.ClosedAt is { } closed ? (closed.UnixMilliseconds - row.Key.At.UnixMilliseconds) / 1000.0 : 0;

    private static long At(HistoryRow.Episode row) => row.Key.At.UnixMilliseconds;

    private static long From(Looking l) => l.From.UnixMilliseconds;

    private static string Line(params object[] cells) => string.Join(" | ", cells.Select(c => c switch
    {
        double number => InfluxSeries.Cell(number),
        bool flag => flag ? "true" : "false",
        _ => FormattableString.Invariant($"{c}"),
    }));
}
