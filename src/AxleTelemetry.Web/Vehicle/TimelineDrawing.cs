using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Web.Look;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Web.Vehicle;

/// <summary>A timeline as the drawing takes it: numbers in tonnes and km/h, moments in ms; a value of <c>null</c> breaks a line.</summary>
/// <param name="From">Beginning.</param>
/// <param name="To">End.</param>
/// <param name="Gross">What stood on the road.</param>
/// <param name="Axles">Each axle.</param>
/// <param name="Spare">Moment, room to the closest limit of a group, a vehicle or a share, its half-width, which one.</param>
/// <param name="Speed">Moment, speed.</param>
/// <param name="Lifts">From, to, words.</param>
/// <param name="Laws">The same of whose limits held.</param>
/// <param name="Episodes">From, to, what, class, sentence.</param>
internal sealed record TimelineDrawing(long From, long To, LoadDrawing Gross, LoadDrawing[] Axles, object?[][] Spare, double?[][] Speed, object[][] Lifts, object[][] Laws, object[][] Episodes)
{
    public static TimelineDrawing Of(Timeline timeline)
    {
        var names = timeline.Stretches.SelectMany(s => s.Axles).Distinct().ToArray();
        return new(
            timeline.From.UnixMilliseconds, timeline.To.UnixMilliseconds,
            new("", Line(timeline, (_, p) => p.Gross), Steps(timeline, (_, l) => l.Gross)),
            [.. names.Select(n => new LoadDrawing(n, Line(timeline, (s, p) => Of(s, n, p.Axles)), Steps(timeline, (s, l) => Of(s, n, l.Axles))))],
            [.. timeline.Spare.Select(s => new object?[] { s.At.UnixMilliseconds, s.Excess is { } excess ? Math.Round(-excess.Mean / 1000, 2) : null, s.Excess is { } wide ? Math.Round(wide.HalfWidth / 1000, 2) : null, s.Name })],
            [.. timeline.Speed.Points.Select(p => new double?[] { p.At.UnixMilliseconds, p.Speed is { } speed ? Math.Round(speed * 3.6, 1) : null })],
            [.. timeline.Stretches.SelectMany(s => Bands(s, s.Lifts))],
            [.. timeline.Stretches.SelectMany(s => Bands(s, LawsOf(s)))],
            [.. timeline.Episodes.Select(e => new object[] { Math.Max(e.Since.UnixMilliseconds, timeline.From.UnixMilliseconds), (e.Ended ?? timeline.To).UnixMilliseconds, e.About, Class(e), e.Sentence })]);
    }

    private static T? Of<T>(LoadLine line, string axle, ImmutableArray<T?> values) where T : struct => line.Axles.IndexOf(axle) is var i and >= 0 ? values[i] : null;

    private static double?[][] Line(Timeline timeline, Func<LoadLine, LoadAt, Estimated?> of) =>
        [.. timeline.Stretches.SelectMany(s => s.Points.Select(p => Point(p.At.UnixMilliseconds, of(s, p))).Append([End(s) + 1, null, null]))];

    private static double?[] Point(long at, Estimated? load) =>
        load is { } known ? [at, Math.Round(known.Mean / 1000, 2), Math.Round(known.HalfWidth / 1000, 2)] : [at, null, null];

    // Each limit holds to the next one; the last of a stretch to its end, and beyond it none is known.
    private static double?[][] Steps(Timeline timeline, Func<LoadLine, LimitsAt, double?> of) =>
        [.. timeline.Stretches.Where(s => !s.Limits.IsEmpty).SelectMany(s => s.Limits.Select(l => Step(l.At.UnixMilliseconds, of(s, l))).Append(Step(End(s), of(s, s.Limits[^1]))).Append([End(s) + 1, null]))];

    private static double?[] Step(long at, double? limit) => [at, limit is { } known ? Math.Round(known / 1000, 3) : null];

    private static IEnumerable<(Moment At, string Words)> LawsOf(LoadLine line)
    {
        string? before = null;
        foreach (var limits in line.Limits)
        {
            if (limits.Law != before) yield return (limits.At, limits.Law.Length > 0 ? limits.Law : Texts.Words.LawNowhere);
            before = limits.Law;
        }
    }

    private static IEnumerable<object[]> Bands(LoadLine line, IEnumerable<(Moment At, string Words)> changes)
    {
        var all = changes.ToArray();
        for (var i = 0; i < all.Length; i++) yield return [all[i].At.UnixMilliseconds, i + 1 < all.Length ? all[i + 1].At.UnixMilliseconds : End(line), all[i].Words];
    }

    private static long End(LoadLine line) => line.Points[^1].At.UnixMilliseconds;

    private static string Class(EpisodeLine episode) => episode.Finding.Kind != FindingKind.Overload ? "quiet" : episode.Reached switch
    {
        Level.Surely => Looks.ClassOf(Condition.Over), Level.Likely => Looks.ClassOf(Condition.LikelyOver), _ => Looks.ClassOf(Condition.Near),
    };
}

/// <summary>The line of a load.</summary>
/// <param name="Name">Of what; empty for all that stands on the road.</param>
/// <param name="Points">Moment, mean, half of the 95 % interval.</param>
/// <param name="Limits">Moment, the limit that is closest from then on.</param>
internal sealed record LoadDrawing(string Name, double?[][] Points, double?[][] Limits);
