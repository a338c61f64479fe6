using System.Text.RegularExpressions;
using AxleTelemetry.Domain.Findings;

namespace AxleTelemetry.Service.Watching;

/// <summary>The end of a watch in words.</summary>
internal static partial class SummaryText
{
    /// <summary>Writes a few lines.</summary>
    public static void Write(WatchSummary summary, TextWriter output)
    {
        foreach (var unit in summary.Units) LoadsText.Write(unit, output);
        foreach (var (unit, why) in summary.Stopped) output.WriteLine($"{EventText.NameOf(unit)} was not followed to the end by a fault of this program, please report it: {why}");
        output.WriteLine(FormattableString.Invariant($"Messages: {summary.Messages}"));
        output.WriteLine(FormattableString.Invariant($"Readings: {summary.Readings}, of which taken: {summary.Taken}, late: {summary.Late}"));
        output.WriteLine($"Readings not taken, and gaps: {List(summary.NotTaken)}");
        output.WriteLine($"Refused: {List(summary.Refusals)}");
        output.WriteLine($"Findings: {List(summary.Episodes.Select(e => (Words(e.Kind), e.Count)))}");
    }

    /// <summary>A kind of finding in words: <c>lowered for nothing</c>.</summary>
    public static string Words(FindingKind kind) => WordStart().Replace(kind.ToString(), " $0").Trim().ToLowerInvariant();

    private static string List(IEnumerable<(string What, long Count)> counts)
    {
        var list = string.Join(", ", counts.Select(c => FormattableString.Invariant($"{c.What} {c.Count}")));
        return list.Length == 0 ? "none" : list;
    }

    [GeneratedRegex("[A-Z]")]
    private static partial Regex WordStart();
}
