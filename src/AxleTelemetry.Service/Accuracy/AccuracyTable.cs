using System.Globalization;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Service.Accuracy;

/// <summary>Prints what came of a fleet, each figure beside what is asked of it.</summary>
internal sealed class AccuracyTable(TextWriter output)
{
    private const int Enough = 30;
    private int _missed;

    /// <summary>Targets missed so far.</summary>
    public int Missed => _missed;

    /// <summary>Errors and coverage by class.</summary>
    public void Figures(IReadOnlyCollection<UnitResult> results, bool ticketed) => Figures(results, ticketed, _ => true);

    /// <summary>The same of what no error is asked of.</summary>
    public void Unasked(IReadOnlyCollection<UnitResult> results) => Figures(results, true, f => Tolerance.Of(f, true) is null);

    private void Figures(IReadOnlyCollection<UnitResult> results, bool ticketed, Func<FigureClass, bool> which)
    {
        Line($"  {"",-40} legs  within tolerance        error, 95 %   covered first  covered last   stated +-");
        foreach (var (words, figures) in Classes(results))
        {
            var last = figures.Where(f => f.Place == LegPlace.Last).ToList();
            if (last.Count == 0 || !which(last[0].Class)) continue;
            var first = figures.Where(f => f.Place == LegPlace.First).ToList();
            var tolerance = Tolerance.Of(last[0].Class, ticketed);
            var within = tolerance is { } asked ? last.Count(f => f.Error <= asked.At(f.Truth)) / (double)last.Count : double.NaN;
            var text = tolerance is { } stated ? $"{within,6:0.0 %} of max({100 * stated.Fraction:0.#} %, {stated.Kilograms:0} kg){Mark(within >= 0.95, last.Count)}" : "not asked";
            Line($"    {words,-38} {last.Count,4}  {text,-38} {Quantile(last.Select(f => f.Error), 0.95),5:0} kg  {Covered(first),-14} {Covered(last),-14} {Quantile(last.Select(f => f.Stated.HalfWidth), 0.5),5:0} kg");
        }
    }

    /// <summary>Coverage after some legs.</summary>
    public void Legs(IReadOnlyCollection<UnitResult> results)
    {
        var last = results.SelectMany(r => r.Figures).Where(f => f.Place == LegPlace.Last).ToList();
        foreach (var (from, to, words) in ((int, int, string)[])[(1, 1, "the first leg"), (2, 10, "legs 2 to 10"), (11, int.MaxValue, "legs from the 11th on")])
            if (last.Where(f => f.Leg >= from && f.Leg <= to).ToList() is { Count: > 0 } some)
                Line($"    covered on {words}: {Covered(some)} ({some.Count} figures)");
    }

    /// <summary>Overloads found by size, of what is sensed.</summary>
    public void Overloads(IReadOnlyCollection<UnitResult> results)
    {
        var limits = results.SelectMany(r => r.Limits).ToList();
        Found("own-sensor axles and gross, above 6 %", limits.Where(l => IsSensed(l.Class) && l.Size > 0.06), 0.99);
        Found("own-sensor axles and gross, above 5 %", limits.Where(l => IsSensed(l.Class) && l.Size > 0.05), 0.98);
        Found("own-sensor axles and gross, 2 to 5 %", limits.Where(l => IsSensed(l.Class) && l.Size is > 0.02 and <= 0.05), null);
        Found("own-sensor axles and gross, up to 2 %", limits.Where(l => IsSensed(l.Class) && l.Size <= 0.02), null);
        Found("steer axle of an articulated, above 10 %", limits.Where(l => l.Class == FigureClass.SteerArticulated && l.Size > 0.10), 0.99);
        Found("shared circuits, above 6 %", limits.Where(l => l.Class == FigureClass.SharedCircuit && l.Size > 0.06), null);
        Found("what is not sensed, above 6 %", limits.Where(l => l.Class is FigureClass.GrossBare or FigureClass.GrossRearSensed or FigureClass.SteerRearSensed && l.Size > 0.06), null);
    }

    /// <summary>False alerts, in all and by vehicle.</summary>
    public void Alerts(IReadOnlyCollection<UnitResult> results)
    {
        var (days, told) = (results.Sum(r => r.Days), results.SelectMany(r => r.Told).ToList());
        var wrong = results.Select(r => (r.Id, r.Kind, False: r.Told.Where(t => t.TrueSize <= 0).ToList())).Where(r => r.False.Count > 0).ToList();
        var count = wrong.Sum(w => w.False.Count);
        var rate = days == 0 ? 0 : 30.0 * count / days;
        Line($"    overloads told {told.Count}, false {count} in {days} vehicle-days: {rate:0.00} in 30 vehicle-days (asked: at most 1){Mark(rate <= 1, days)}");
        foreach (var (id, kind, some) in wrong)
            Line($"      {id} ({kind}): {string.Join("; ", some.Select(f => $"{Words(f.Key)} told {f.StatedSize:+0.0 %;-0.0 %}, in truth at most {f.TrueSize:+0.0 %;-0.0 %}"))}");
        if (wrong.Count == 0) Line($"      no vehicle with a false alert");
    }

    /// <summary>How often advice was right.</summary>
    public void Advised(IReadOnlyCollection<UnitResult> results)
    {
        var all = results.SelectMany(r => r.Advice).ToList();
        var advice = all.Where(a => a.Given != Advice.CannotTell).ToList();
        var right = advice.Count(a => a.IsRight);
        Line($"    advice right on {right} of {advice.Count} settled legs further than 3 % from every limit: {Share(right, advice.Count)} (asked: 98 %){Mark(right >= 0.98 * advice.Count, advice.Count)}");
        Line($"      on {all.Count - advice.Count} more it said that it cannot tell; on {all.Count(a => a.Given == Advice.CannotTell && a.Right is Advice.SetAxles or Advice.Unload)} of them a limit was passed");
        foreach (var some in advice.Where(a => !a.IsRight).GroupBy(a => (a.Right, a.Given, a.WorksInTruth)).OrderByDescending(g => g.Count()))
            Line($"      {some.Count(),4} x right '{some.Key.Right}', given '{some.Key.Given}'{(some.Key.WorksInTruth ? "" : ", which does not end it")}");
    }

    private static IEnumerable<(string Words, List<LegFigure> Figures)> Classes(IReadOnlyCollection<UnitResult> results)
    {
        foreach (var some in results.SelectMany(r => r.Figures).GroupBy(f => f.Class).OrderBy(g => g.Key))
        {
            if (some.Key is not (FigureClass.SteerRearSensed or FigureClass.GrossRearSensed or FigureClass.GrossBare or FigureClass.Inferred))
            {
                yield return (some.Key.Words(), [.. some]);
                continue;
            }

            // Nothing is asked of their error, so coverage and width are told by how full they were.
            foreach (var fill in some.GroupBy(f => f.Fill < 0.1 ? "empty" : f.Fill < 0.8 ? "part load" : "full").OrderBy(g => g.Key, StringComparer.Ordinal))
                yield return ($"{some.Key.Words()}, {fill.Key}", [.. fill]);
        }
    }

    private void Found(string words, IEnumerable<LegLimit> limits, double? asked)
    {
        var all = limits.ToList();
        if (all.Count == 0)
        {
            Line($"    {words}: none occurred");
            return;
        }

        var told = all.Count(l => l.Told);
        var missed = all.Where(l => !l.Told).ToList();
        var text = asked is { } share ? $" (asked: {share:0 %}){Mark(told >= share * all.Count, all.Count)}" : "";
        Line($"    {words}: {told} of {all.Count} found, {Share(told, all.Count)}{text}{(missed.Count == 0 ? "" : $"; of the others {missed.Count(l => l.CannotTell)} said 'cannot tell'")}");
    }

    private string Covered(IReadOnlyCollection<LegFigure> figures)
    {
        var share = figures.Count(f => f.IsCovered) / (double)figures.Count;
        // Below: intervals promise too much. Above: they say less than is known.
        var mark = share < 0.92 ? Mark(false, figures.Count) : share > 0.98 ? Mark(false, figures.Count).Replace("MISSED", "WIDE", StringComparison.Ordinal) : "";
        return $"{share:0.0 %}{mark}";
    }

    // A share of a few says little either way.
    private string Mark(bool holds, int of)
    {
        if (holds) return "";
        if (of < Enough) return " (few)";
        _missed++;
        return " MISSED";
    }

    private static bool IsSensed(FigureClass figures) => figures is FigureClass.OwnSensor or FigureClass.GrossSensed;

    private static string Share(int part, int of) => of == 0 ? "-" : (part / (double)of).ToString("0.0 %", CultureInfo.InvariantCulture);

    private static string Words(MarginKey key) => key.Element >= 0 ? $"{key.Kind} {key.Element + 1}" : key.Kind.ToString();

    private static double Quantile(IEnumerable<double> values, double part)
    {
        double[] sorted = [.. values.Order()];
        return sorted[(int)Math.Min(sorted.Length - 1, part * sorted.Length)];
    }

    private void Line(FormattableString text) => output.WriteLine(text.ToString(CultureInfo.InvariantCulture));
}
