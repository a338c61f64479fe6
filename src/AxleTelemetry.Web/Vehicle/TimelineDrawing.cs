using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Web.Look;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Web.Vehicle;

/// <summary>A timeline as the drawing takes it: numbers in tonnes, moments in ms.</summary>
/// <param name="From">Beginning.</param>
/// <param name="To">End.</param>
/// <param name="Gross">Moment, mean, half of the 95 % interval; a mean of null breaks the line.</param>
/// <param name="Axles">The same for each axle, with its name and its present limit.</param>
/// <param name="Lifts">From, to, words.</param>
/// <param name="Episodes">From, to, what, class, sentence.</param>
internal sealed record TimelineDrawing(long From, long To, double?[][] Gross, AxleDrawing[] Axles, object[][] Lifts, object[][] Episodes)
{
    public static TimelineDrawing Of(Timeline timeline, LaneView view)
    {
        var names = timeline.Stretches.SelectMany(s => s.Axles).Distinct().ToArray();
        return new(
            timeline.From.UnixMilliseconds, timeline.To.UnixMilliseconds, Line(timeline, (_, p) => p.Gross),
            [.. names.Select(n => new AxleDrawing(n, Limit(view, n), Line(timeline, (s, p) => s.Axles.IndexOf(n) is var i and >= 0 ? p.Axles[i] : null)))],
            [.. timeline.Stretches.SelectMany(Stood)],
            [.. timeline.Episodes.Select(e => new object[] { Math.Max(e.Since.UnixMilliseconds, timeline.From.UnixMilliseconds), (e.Ended ?? timeline.To).UnixMilliseconds, e.About, Class(e), e.Sentence })]);
    }

    private static double?[][] Line(Timeline timeline, Func<LoadLine, LoadAt, Estimated?> of) =>
        [.. timeline.Stretches.SelectMany(s => s.Points.Select(p => Point(p.At.UnixMilliseconds, of(s, p))).Append([s.Points[^1].At.UnixMilliseconds + 1, null, null]))];

    private static double?[] Point(long at, Estimated? load) =>
        load is { } known ? [at, Math.Round(known.Mean / 1000, 2), Math.Round(known.HalfWidth / 1000, 2)] : [at, null, null];

    private static IEnumerable<object[]> Stood(LoadLine line)
    {
        for (var i = 0; i < line.Lifts.Length; i++)
            yield return [line.Lifts[i].At.UnixMilliseconds, (i + 1 < line.Lifts.Length ? line.Lifts[i + 1].At : line.Points[^1].At).UnixMilliseconds, line.Lifts[i].Words];
    }

    private static double? Limit(LaneView view, string name)
    {
        var names = new Domain.Wording.Names(view.Combination);
        var limit = view.Axles.FirstOrDefault(a => names.Axle(a.Part.Index) == name)?.Load?.Closest?.Margin;
        return limit is { Constant: not 0 } ? limit.Limit / 1000 : null;
    }

    private static string Class(EpisodeLine episode) => episode.Finding.Kind != FindingKind.Overload ? "quiet" : episode.Reached switch
    {
        Level.Surely => Looks.ClassOf(Condition.Over), Level.Likely => Looks.ClassOf(Condition.LikelyOver), _ => Looks.ClassOf(Condition.Near),
    };
}

/// <summary>The line of one axle.</summary>
internal sealed record AxleDrawing(string Name, double? Limit, double?[][] Points);
