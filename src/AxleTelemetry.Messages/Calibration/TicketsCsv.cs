using System.Collections.Immutable;
using nietras.SeparatedValues;

namespace AxleTelemetry.Messages.Calibration;

/// <summary>
/// Weighbridge tickets as text: one header line with the column names below in any order, then one line per circuit and weighing.
/// Separator comma, semicolon or tab; quotes as in RFC 4180; decimal point; empty lines are passed over.
/// <list type="table">
/// <item><term>weighing</term><description>names the weighing, 1 to 64 characters; rows of one weighing share the bridge's error</description></item>
/// <item><term>time</term><description>when it was weighed, RFC 3339 with Z or an offset</description></item>
/// <item><term>vehicle, sensor</term><description>the circuit, 1 to 64 of A-Z a-z 0-9 . _ - each</description></item>
/// <item><term>kpa</term><description>bellows pressure above atmosphere at the weighing, -5 to 1600</description></item>
/// <item><term>axle_kg</term><description>load on the road of one axle of the circuit, unsprung mass included: the mean where the circuit has several; above 0, at most 40000</description></item>
/// <item><term>method</term><description><c>platform</c> (whole vehicle, certified), <c>axle</c> (axle by axle, level static bridge) or <c>dynamic</c> (in motion)</description></item>
/// <item><term>gross_kg</term><description>gross of the weighing, axle_kg to 200000; needed for <c>platform</c>, whose error follows it, else optional</description></item>
/// <item><term>note</term><description>optional, at most 500 characters</description></item>
/// </list>
/// </summary>
public static class TicketsCsv
{
    /// <summary>The most characters of a file.</summary>
    public const int MostCharacters = 1 << 20;

    /// <summary>The most rows of a file.</summary>
    public const int MostRows = 5000;

    private static readonly ImmutableArray<string> Needed = ["weighing", "time", "vehicle", "sensor", "kpa", "axle_kg", "method"];

    private static readonly ImmutableArray<string> Known = [.. Needed, "gross_kg", "note"];

    /// <summary>Reads all rows, or lists everything that is wrong.</summary>
    public static TicketsOutcome Parse(string text)
    {
        var problems = new List<TicketProblem>();
        if (text.Length > MostCharacters)
            return Refused(new TicketProblem(1, "file", $"{text.Length} characters", $"A file has at most {MostCharacters} characters."));
        using var reader = Sep.Reader(options => options with { HasHeader = false, Unescape = true, DisableColCountCheck = true })
            .FromText(text.TrimStart('\uFEFF'));
        ImmutableArray<string> header = default;
        var rows = new List<TicketRow>();
        foreach (var row in reader)
        {
            ImmutableArray<string> fields = [.. Fields(row)];
            if (fields.All(field => field.Length == 0)) continue;
            if (header.IsDefault) CheckHeader(header = fields, row.LineNumberFrom, problems);
            else if (rows.Count == MostRows) return Refused(new TicketProblem(row.LineNumberFrom, "file", "more rows", $"A file has at most {MostRows} rows."));
            else rows.Add(new(row.LineNumberFrom, header, fields, problems));
        }
        if (header.IsDefault) return Refused(new TicketProblem(1, "header", "", $"The first line names the columns: {string.Join(',', Known)}."));
        if (problems.Count > 0) return Refused([.. problems]);
        return Rows(rows, problems);
    }

    private static TicketsOutcome Rows(List<TicketRow> rows, List<TicketProblem> problems)
    {
        var tickets = ImmutableArray.CreateBuilder<CircuitTicket>(rows.Count);
        var sheet = new WeighingSheet(problems);
        foreach (var row in rows)
        {
            if (row.Read() is not { } ticket) continue;
            sheet.Check(row.Line, ticket, row.Gross);
            tickets.Add(ticket);
        }
        if (problems.Count > 0) return Refused([.. problems]);
        return new TicketsRead(tickets.ToImmutable());
    }

    private static TicketsRefused Refused(params ImmutableArray<TicketProblem> problems) => new(problems);

    private static IEnumerable<string> Fields(SepReader.Row row)
    {
        var fields = new string[row.ColCount];
        for (var i = 0; i < fields.Length; i++) fields[i] = row[i].ToString().Trim();
        return fields;
    }

    private static void CheckHeader(ImmutableArray<string> header, int line, List<TicketProblem> problems)
    {
        foreach (var name in header.Where(name => !Known.Contains(name)))
            problems.Add(new(line, "header", name, $"Known columns are {string.Join(", ", Known)}."));
        foreach (var name in header.Where(Known.Contains).GroupBy(name => name).Where(group => group.Count() > 1).Select(group => group.Key))
            problems.Add(new(line, "header", name, "Each column stands once."));
        foreach (var name in Needed.Where(name => !header.Contains(name)))
            problems.Add(new(line, "header", "", $"The column {name} is needed."));
    }
}
