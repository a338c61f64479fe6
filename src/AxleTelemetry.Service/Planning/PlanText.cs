using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Domain.Wording;
using static System.FormattableString;

namespace AxleTelemetry.Service.Planning;

/// <summary>A plan as plain aligned text.</summary>
internal sealed class PlanText(PlanSheet sheet, TextWriter output)
{
    private readonly PlanWords _words = new(sheet);

    public void Write()
    {
        Lines(_words.Head());
        foreach (var lifts in sheet.Lifts) Write(lifts);
        output.WriteLine();
        foreach (var stage in sheet.Stages) Write(stage);
        Lines(_words.FirstFailures());
        output.WriteLine();
        Lines(_words.Shifted());
        Lines(_words.Aids());
        Lines(_words.Assumptions());
        Lines(PlanWords.Cautions);
    }

    private void Write(PlannedLifts lifts)
    {
        output.WriteLine();
        output.WriteLine($"{Names.Begin(_words.Names.Lifts(lifts.Configuration))}: {_words.Verdict(sheet.Start, lifts.Configuration)}.");
        if (sheet.Start.In(lifts.Configuration) is { } plan)
        {
            Table([["", "Load t", "Limit t", "To spare t", ""], .. plan.Verdicts.Select(Cells).DistinctBy(c => string.Join('|', c))], 1, 3);
            output.WriteLine($"  Moves off on grades up to: {PlanWords.Moving(plan)}.");
        }

        output.WriteLine($"  Turning: {_words.Turning(lifts)}.");
        output.WriteLine(Invariant($"  Payload of {sheet.Order.Body.Vehicle.Id} by the place of its centre:"));
        Table([["from m", "to m", "most t", "bounded by", ""], .. lifts.Diagram.Binding.Select(s => StretchWords.Cells(s, _words.Names))], 0, 2);
    }

    private void Write(PlanStage stage)
    {
        output.WriteLine($"{_words.Title(stage)}, {PlanWords.Load(stage.Aboard)}: {_words.Right(stage)}.");
        foreach (var remedy in _words.Remedies(stage)) output.WriteLine($"  {remedy}");
    }

    private string[] Cells(Verdict verdict)
    {
        var (margin, share) = (verdict.Margin, verdict.Margin.Key.Kind is MarginKind.DrivingShare or MarginKind.SteeringShare);
        var load = share ? Amount.Percent(margin.Limit - verdict.Excess.Mean / (verdict.Scale / margin.Limit)) : Amount.Number(Carried(verdict));
        return [Names.Begin(_words.Names.Of(new PlanLimit.Of(margin))), load, share ? $"min {Amount.Percent(margin.Limit)}" : Invariant($"{(margin.Key.Kind == MarginKind.CouplingLeast ? "min " : "")}{margin.Limit / 1000:0.0##}"),
            Amount.Number(-verdict.Excess.Mean), verdict.Excess.Mean <= 0 ? "" : verdict.Binds ? "over" : "house rule missed"];
    }

    /// <summary>A least load is missed from below, so its margin counts the other way.</summary>
    private static double Carried(Verdict verdict) =>
        verdict.Margin.Key.Kind == MarginKind.CouplingLeast ? verdict.Margin.Limit - verdict.Excess.Mean : verdict.Margin.Limit + verdict.Excess.Mean;

    private void Table(string[][] cells, int firstNumber, int lastNumber)
    {
        int[] widths = [.. Enumerable.Range(0, cells[0].Length).Select(c => cells.Max(row => row[c].Length))];
        foreach (var row in cells)
            output.WriteLine(("    " + string.Join("  ", row.Select((cell, c) => c >= firstNumber && c <= lastNumber ? cell.PadLeft(widths[c]) : cell.PadRight(widths[c])))).TrimEnd());
    }

    private void Lines(IEnumerable<string> lines)
    {
        foreach (var line in lines) output.WriteLine(line);
    }
}
