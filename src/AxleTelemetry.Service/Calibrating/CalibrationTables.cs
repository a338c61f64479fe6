using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Statistics;
using AxleTelemetry.Messages.Calibration;
using Spectre.Console;
using static System.FormattableString;

namespace AxleTelemetry.Service.Calibrating;

/// <summary>The sheet for a terminal.</summary>
internal static class CalibrationTables
{
    /// <summary>Columns that the tables need: narrower, their numbers would be broken across lines.</summary>
    public const int Least = 100;

    public static void Write(CalibrationSheet sheet, IAnsiConsole console)
    {
        // Sentences go out whole: a terminal wraps them itself, a file keeps one to a line.
        var sentences = console.Profile.Out.Writer;
        foreach (var line in Head(sheet)) sentences.WriteLine(line);
        console.Write(Levels(sheet));
        if (sheet.Tickets.IsEmpty) return;
        console.Write(Tickets(sheet));
        sentences.WriteLine("Residual: ticket less fit. Leverage: how far the ticket decides the fit there, 0 to 1. sd away: from handbook and the other tickets, beyond 3 it does not belong. Student t: from a plain line through the tickets alone.");
        sentences.WriteLine(PlainLine(sheet.Screening.PlainLine, sheet.Tickets.Length));
        if (HandbookDoubt.Of(sheet) is { } doubt) sentences.WriteLine(doubt);
        foreach (var check in sheet.Suspicious) sentences.WriteLine(SuspicionText.Of(check, sheet));
    }

    private static IEnumerable<string> Head(CalibrationSheet sheet)
    {
        var fit = sheet.Fit;
        yield return (sheet.Circuit, sheet.Tickets.IsEmpty) switch
        {
            (null, _) => "Handbook alone, no ticket",
            ({ } circuit, true) => $"{circuit}, handbook alone, no ticket",
            ({ } circuit, false) => $"{circuit}, {Count(sheet)}, version {fit.Version}",
        };
        if (!sheet.LeftOut.IsEmpty) yield return $"Left out: {string.Join(", ", sheet.LeftOut)}.";
        yield return Invariant($"Sprung load = {fit.OffsetKilograms:0.0} kg + {fit.KilogramsPerKilopascal:0.000} kg/kPa x pressure; axle load = sprung load + {sheet.Unsprung.Kilograms:0} kg unsprung.");
        yield return Invariant($"Not known (1 sd): offset {Math.Sqrt(fit.OffsetVariance):0} kg, gain {Math.Sqrt(fit.GainVariance) / fit.KilogramsPerKilopascal:0.0 %}, one weighing about the line {fit.ResidualKilograms:0} kg.");
        if (!sheet.Tickets.IsEmpty)
            yield return Invariant($"Handbook {sheet.Handbook.KilogramsPerKilopascal:0.000} kg/kPa; the tickets move the gain by {fit.KilogramsPerKilopascal / sheet.Handbook.KilogramsPerKilopascal - 1:+0.0 %;-0.0 %;0.0 %}.");
        if (sheet.At is { } at)
            yield return sheet switch
            {
                { Tickets.IsEmpty: true } => "The handbook does not age.",
                _ when sheet.Tickets.All(ticket => ticket.At > at) => Invariant($"Not widened: every ticket is later than {at}."),
                _ => Invariant($"Widened by its age to {at}."),
            };
    }

    public static string Count(CalibrationSheet sheet) => sheet.Tickets.Length switch
    {
        0 => "no ticket",
        1 => "1 ticket",
        var count => Invariant($"{count} tickets"),
    };

    private static Table Levels(CalibrationSheet sheet)
    {
        var table = Framed([], ["Load", "Axle kg", "kPa", "Line +- kg", "One reading +- kg"]).AddColumn("Pressure (+-: 95 %)");
        foreach (var level in sheet.Levels)
            table.AddRow(
                Invariant($"{level.Share:0 %}"), Invariant($"{level.AxleKilograms:#,0}"), Invariant($"{level.Kilopascals:0}"),
                Invariant($"{level.Line.HalfWidth.Kilograms:#,0}"), Invariant($"{level.Reading.HalfWidth.Kilograms:#,0}"),
                level.Line.Extrapolated ? "beyond the tickets" : sheet.Tickets.IsEmpty ? "handbook" : "within the tickets");
        return table;
    }

    private static Table Tickets(CalibrationSheet sheet)
    {
        // Names in two lines: the table then fits a terminal of 100 columns.
        var table = Framed(["Weighing", "Day", "Method"], ["kPa", "Axle\nkg", "Ticket\nsd kg", "Resid-\nual kg", "Lever-\nage", "sd\naway", "Stu-\ndent t"])
            .AddColumn(new TableColumn(""));
        foreach (var column in table.Columns) column.PadLeft(0).PadRight(1).NoWrap();
        foreach (var check in sheet.Screening.Checks)
        {
            var ticket = check.Ticket;
            table.AddRow(
                new Text(ticket.Weighing), new Text(ticket.At.ToString()[..10]), new Text(MethodName.Of(ticket.Method)),
                new Text(Invariant($"{ticket.Pressure.Kilopascals:0.0}")), new Text(Invariant($"{ticket.AxleLoad.Kilograms:#,0}")),
                new Text(Invariant($"{ticket.Deviation.Kilograms:0}")), new Text(Invariant($"{check.ResidualKilograms:+0;-0;0}")),
                new Text(Invariant($"{check.Leverage:0.00}")), new Text(Invariant($"{check.Departures:+0.0;-0.0;0.0}")),
                new Text(check.Studentised is { } t ? Invariant($"{t:+0.0;-0.0;0.0}") : "-"),
                new Text(check.Suspicion == TicketSuspicion.None ? "" : "suspicious"));
        }
        return table;
    }

    private static string PlainLine(LineFitOutcome? outcome, int tickets) => outcome switch
    {
        FittedLine line => Invariant(
            $"Plain least squares, without the handbook: sprung load = {line.Intercept:0.0} kg (standard error {line.InterceptError:0.0} kg) + {line.Slope:0.000} kg/kPa ({line.SlopeError:0.000} kg/kPa) x pressure; residual sd {line.ResidualDeviation:0} kg, {line.DegreesOfFreedom} degrees of freedom."),
        NoLine { Reason: NoLineReason.EqualAbscissas } => "No plain line: all tickets stand at one pressure. Weigh at 40, 70 and 100 % load.",
        NoLine none => Invariant($"No plain line: {none.Reason}."),
        _ => Invariant($"No plain line: it takes {TicketScreening.PlainLineFrom} tickets, there are {tickets}."),
    };

    private static Table Framed(string[] words, string[] numbers)
    {
        var table = new Table().Border(TableBorder.Simple);
        foreach (var name in words) table.AddColumn(name);
        foreach (var name in numbers) table.AddColumn(new TableColumn(name).RightAligned());
        return table;
    }
}
