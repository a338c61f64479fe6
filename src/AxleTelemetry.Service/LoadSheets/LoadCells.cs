using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;
using static System.FormattableString;

namespace AxleTelemetry.Service.LoadSheets;

/// <summary>The cells of a configuration's table, the same for a terminal and for plain text.</summary>
internal static class LoadCells
{
    /// <summary>Column heads; numbers are right-aligned.</summary>
    public static ImmutableArray<(string Head, bool IsNumber)> Columns(LoadSheet sheet) =>
    [
        ("", false), ("Load t", true), ("95 % t", true), ("Limit t", true), ("Margin t", true), ("Level", false),
        .. sheet.IsStated ? ImmutableArray<(string, bool)>.Empty : [("Known by", false)],
        ("Limit from", false),
    ];

    /// <summary>One row.</summary>
    public static ImmutableArray<string> Of(LoadSheet sheet, LoadRow row)
    {
        var name = Names.Begin(row.Name);
        ImmutableArray<string> known = sheet.IsStated ? [] : [Known(row)];
        if (row.State == AxleState.Raised) return [name, "raised", "", "", "", "", .. sheet.IsStated ? known : [""], ""];
        // An axle cannot pull: what the interval has below zero is told as zero.
        var low = row.MayPull ? row.Load.Low : Math.Max(0, row.Load.Low);
        var interval = $"{Amount.Number(low)} to {Amount.Number(row.Load.High)}";
        if (row.Judged.IsEmpty) return [name, Amount.Number(row.Load.Mean), interval, "", "", row.State == AxleState.Unloaded ? "relieved" : "", .. known, ""];
        var judged = row.Judged[0];
        var verdict = judged.Verdict;
        ImmutableArray<string> rest = [Amount.Number(-verdict.Excess.Mean), Word(judged), .. known, Source(sheet, verdict.Margin)];
        if (row.IsShare) return [name, .. Share(verdict), .. rest];
        return [name, Amount.Number(row.Load.Mean), interval, Limit(verdict.Margin), .. rest];
    }

    /// <summary>One row as a line of its own, each cell with the unit that its column's head has.</summary>
    public static string Line(LoadSheet sheet, LoadRow row)
    {
        var heads = Columns(sheet);
        var cells = Of(sheet, row);
        var told = Enumerable.Range(1, cells.Length - 1).Where(i => cells[i].Length > 0).Select(i => heads[i].Head switch
        {
            "Load t" => cells[i].EndsWith('%') || row.State == AxleState.Raised ? cells[i] : $"{cells[i]} t",
            "95 % t" => cells[i].EndsWith('%') ? $"({cells[i]})" : $"({cells[i]} t)",
            "Limit t" => cells[i].EndsWith('%') ? $"limit {cells[i]}" : $"limit {cells[i]} t",
            "Margin t" => $"margin {cells[i]} t",
            _ => cells[i],
        });
        return $"{cells[0]}: {string.Join(", ", told)}".Replace(", (", " (", StringComparison.Ordinal);
    }

    /// <summary>How sure it is that a limit is passed, in a word or two.</summary>
    public static string Word(JudgedLimit judged) => judged switch
    {
        { CannotTell: true } => "cannot tell",
        { Level: Level.Clear } => "ok",
        { Level: Level.Near } => "near the limit",
        { Level: Level.Likely } => $"likely {Side(judged)}",
        { Level: Level.Surely } => $"surely {Side(judged)}",
        _ => throw new ArgumentOutOfRangeException(nameof(judged), judged.Level, "Unknown level."),
    };

    /// <summary>A least load or share is missed from below.</summary>
    private static string Side(JudgedLimit judged) =>
        judged.Verdict.Margin.Key.Kind is MarginKind.DrivingShare or MarginKind.SteeringShare or MarginKind.CouplingLeast ? "under" : "over";

    /// <summary>How a load is known, in a word or two.</summary>
    public static string Known(LoadRow row) => row.Known switch
    {
        Knowledge.Sensed => row.Axle < 0 ? "sensors" : "own sensor",
        Knowledge.SharedCircuit => "shared",
        Knowledge.Inferred => "inferred",
        Knowledge.ByPlace => "place only",
        _ => throw new ArgumentOutOfRangeException(nameof(row), row.Known, "Unknown knowledge."),
    };

    private static ImmutableArray<string> Share(in Verdict verdict)
    {
        var (limit, mass, excess) = (verdict.Margin.Limit, verdict.Scale / verdict.Margin.Limit, verdict.Excess);
        string Percent(double kilograms) => Invariant($"{100 * (limit - kilograms / mass):0.0}");
        return [$"{Percent(excess.Mean)} %", $"{Percent(excess.High)} to {Percent(excess.Low)} %", $"min {Amount.Percent(limit)}"];
    }

    private static string Limit(Margin margin)
    {
        var tonnes = Invariant($"{margin.Limit / 1000:0.0##}");
        return margin.Key.Kind == MarginKind.CouplingLeast ? $"min {tonnes}" : tonnes;
    }

    private static string Source(LoadSheet sheet, Margin margin)
    {
        var source = margin.Source;
        if (source.Status == LimitStatus.VehiclePapers) return $"papers: {source.Clause}";
        if (margin.Standing == MarginStanding.HouseRule) return "house rule";
        var place = source.Title == sheet.Input.Limits.Title ? source.Clause : LimitText.Place(source);
        // The table of limits stands at the head with its edition; what of it is less sure says so where it is used.
        return source.Status == LimitStatus.UnverifiedEdition ? $"{place}, not verified" : place;
    }
}
