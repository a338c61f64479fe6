using System.Collections.Immutable;
using AxleTelemetry.Domain.FittedTyres;
using AxleTelemetry.Domain.Vehicles;
using nietras.SeparatedValues;

namespace AxleTelemetry.Messages.FittedTyres;

/// <summary>
/// What was done to a fleet's tyres as text: one header line with the column names below in any order, then one line per event. Separator comma,
/// semicolon or tab; quotes as in RFC 4180; empty lines are passed over. Days in any order; events of one day in the order of the lines.
/// <list type="table">
/// <item><term>date</term><description>the day, as 2026-03-02; it belongs to the tyre that is on the axle at its end</description></item>
/// <item><term>event</term><description><c>fitted</c>, <c>rotated</c> (moved to another place), <c>removed</c> or <c>retreaded</c></description></item>
/// <item><term>tyre</term><description>which, 1 to 64 of A-Z a-z 0-9 . _ -</description></item>
/// <item><term>vehicle, axle</term><description>id and key, for fitted and rotated: where it then is; else empty</description></item>
/// <item><term>position</term><description>for fitted and rotated: <c>left</c>, <c>right</c>, or of twins <c>left-outer</c>, <c>left-inner</c>, <c>right-inner</c>, <c>right-outer</c></description></item>
/// <item><term>note</term><description>optional, at most 500 characters</description></item>
/// </list>
/// </summary>
public static class TyresCsv
{
    /// <summary>The most characters of a file.</summary>
    public const int MostCharacters = 8 << 20;

    /// <summary>The most rows of a file.</summary>
    public const int MostRows = 100_000;

    private static readonly ImmutableArray<string> Needed = ["date", "event", "tyre", "vehicle", "axle", "position"];

    private static readonly ImmutableArray<string> Known = [.. Needed, "note"];

    /// <summary>Reads all rows, or lists everything that is wrong.</summary>
    /// <param name="text">The file.</param>
    /// <param name="describe">The vehicle of an id, to hold places against; places on one it does not know are taken as they are written.</param>
    public static TyresOutcome Parse(string text, Func<string, VehicleDescription?>? describe = null)
    {
        var problems = new List<TyreRowProblem>();
        if (text.Length > MostCharacters)
            return Refused(new TyreRowProblem(1, "file", "", $"{text.Length} characters; a file has at most {MostCharacters}."));
        var rows = Rows(text, problems);
        if (problems.Count > 0) return Refused([.. problems]);
        var events = rows.Select(r => (r.Line, Event: r.Read(describe))).ToList();
        if (problems.Count > 0) return Refused([.. problems]);
        return TyreLedger.Of([.. events.Select(e => e.Event!)]) switch
        {
            TyreLedgerResult.Kept kept => new TyresOutcome.Read(kept.Ledger),
            TyreLedgerResult.Refused refused => Refused([.. refused.Problems.Select(p => new TyreRowProblem(events[p.Index].Line, "row", "", p.Reason))]),
            var other => throw new InvalidOperationException($"Unknown result {other}."),
        };
    }

    private static List<TyreRow> Rows(string text, List<TyreRowProblem> problems)
    {
        using var reader = Sep.Reader(options => options with { HasHeader = false, Unescape = true, DisableColCountCheck = true })
            .FromText(text.TrimStart('\uFEFF'));
        ImmutableArray<string> header = default;
        var rows = new List<TyreRow>();
        foreach (var row in reader)
        {
            ImmutableArray<string> fields = Fields(row);
            if (fields.All(field => field.Length == 0)) continue;
            if (header.IsDefault) CheckHeader(header = fields, row.LineNumberFrom, problems);
            else rows.Add(new(row.LineNumberFrom, header, fields, problems));
            if (rows.Count <= MostRows) continue;
            problems.Add(new TyreRowProblem(row.LineNumberFrom, "file", "", $"A file has at most {MostRows} rows."));
            break;
        }

        if (header.IsDefault) problems.Add(new TyreRowProblem(1, "header", "", $"The first line names the columns: {string.Join(',', Known)}."));
        return rows;
    }

    private static TyresOutcome.Refused Refused(params ImmutableArray<TyreRowProblem> problems) => new(problems);

    private static ImmutableArray<string> Fields(SepReader.Row row)
    {
        var fields = ImmutableArray.CreateBuilder<string>(row.ColCount);
        for (var i = 0; i < row.ColCount; i++) fields.Add(row[i].ToString().Trim());
        return fields.MoveToImmutable();
    }

    private static void CheckHeader(ImmutableArray<string> header, int line, List<TyreRowProblem> problems)
    {
        foreach (var name in header.Where(name => !Known.Contains(name)))
            problems.Add(new(line, "header", name, $"Known columns are {string.Join(", ", Known)}."));
        foreach (var name in header.Where(Known.Contains).GroupBy(name => name).Where(group => group.Count() > 1).Select(group => group.Key))
            problems.Add(new(line, "header", name, "Each column stands once."));
        foreach (var name in Needed.Where(name => !header.Contains(name)))
            problems.Add(new(line, "header", "", $"The column {name} is needed."));
    }
}
