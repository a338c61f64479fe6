using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Service.Drives;

/// <summary>How near the closest limit of a group, a vehicle or a share was through time: of each place of the line the moment at which it was nearest.</summary>
internal static class SpareThen
{
    /// <summary>Reduces rows in the order of time.</summary>
    /// <param name="rows">Rows of one vehicle within the span.</param>
    /// <param name="margins">The limits of the vehicles of a row; <c>null</c> where they are not known any more.</param>
    /// <param name="span">The span.</param>
    /// <param name="points">Most places of the line.</param>
    public static ImmutableArray<SpareAt> Over(IEnumerable<HistoryRow.Load> rows, Func<ImmutableArray<LaneMember>, KnownMargins?> margins, (Moment From, Moment To) span, int points)
    {
        var width = Math.Max(1, (double)(span.To.UnixMilliseconds - span.From.UnixMilliseconds) / points);
        var line = ImmutableArray.CreateBuilder<SpareAt>();
        var place = long.MinValue;
        HistoryRow.Load? before = null;
        foreach (var row in rows)
        {
            if (before is not null && (row.Key.At.SecondsSince(before.Key.At) > LoadReduction.SilenceSeconds || !row.Members.AsSpan().SequenceEqual(before.Members.AsSpan()))) Break(line, before.Key.At);
            before = row;
            if (margins(row.Members)?.Closest(row) is not { } closest)
            {
                Break(line, row.Key.At);
                continue;
            }

            var point = new SpareAt(row.Key.At, closest.Excess, closest.Name);
            var at = (long)((row.Key.At.UnixMilliseconds - span.From.UnixMilliseconds) / width);
            if (at != place || line[^1].Excess is not { } last) line.Add(point);
            else if (closest.Excess.Mean > last.Mean) line[^1] = point;
            place = at;
        }

        return line.ToImmutable();
    }

    private static void Break(ImmutableArray<SpareAt>.Builder line, Moment at)
    {
        if (line.Count > 0 && line[^1].Excess is not null) line.Add(new SpareAt(at.Plus(0.001), null, ""));
    }
}
