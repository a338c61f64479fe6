using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Service.Drives;

/// <summary>
/// Reduces a history of loads to what a drawing can show: no extreme of gross or of any axle is lost, nothing is drawn over silence or over
/// a change of vehicles, every change of configuration stays. Points are at most as many as asked for, or as there are stretches.
/// </summary>
internal static class LoadReduction
{
    /// <summary>A lane that is heard records at least every quarter of an hour; longer without a row, it was silent.</summary>
    public const double SilenceSeconds = 1200;

    /// <summary>Reduces rows in the order of time.</summary>
    /// <param name="rows">Rows of one vehicle within the span.</param>
    /// <param name="from">Beginning of the span.</param>
    /// <param name="to">End of the span.</param>
    /// <param name="points">Most points.</param>
    public static ImmutableArray<LoadStretch> Reduce(IEnumerable<HistoryRow.Load> rows, Moment from, Moment to, int points)
    {
        var width = Math.Max(1, (double)(to.UnixMilliseconds - from.UnixMilliseconds) / points);
        var stretches = new List<Drawn>();
        foreach (var row in rows)
        {
            if (stretches.Count == 0 || !stretches[^1].GoesOnWith(row)) stretches.Add(new Drawn(row.Members, row.Axles.Length));
            stretches[^1].Take(row, (long)((row.Key.At.UnixMilliseconds - from.UnixMilliseconds) / width));
        }

        while (stretches.Sum(s => s.Count) > points && stretches.Any(s => s.Count > 1))
            foreach (var stretch in stretches) stretch.Halve();
        return [.. stretches.Select(s => s.Done())];
    }

    private sealed class Drawn(ImmutableArray<LaneMember> members, int axles)
    {
        private readonly List<ConfiguredAt> _configurations = [];
        private readonly List<StoodAt> _stood = [];
        private List<LoadPoint> _points = [];
        private long _bucket;

        public int Count => _points.Count;

        public bool GoesOnWith(HistoryRow.Load row) =>
            axles == row.Axles.Length && row.Key.At.SecondsSince(_points[^1].To) <= SilenceSeconds && members.AsSpan().SequenceEqual(row.Members.AsSpan());

        public void Take(HistoryRow.Load row, long bucket)
        {
            if (_configurations.Count == 0 || _configurations[^1].Configuration != row.Configuration) _configurations.Add(new(row.Key.At, row.Configuration));
            var stood = StoodAt.Of(row);
            if (_stood.Count == 0 || bucket != _bucket || !_stood[^1].IsLike(stood)) _stood.Add(stood);
            var point = LoadPoint.Of(row);
            if (_points.Count > 0 && bucket == _bucket) _points[^1] = _points[^1].With(point);
            else _points.Add(point);
            _bucket = bucket;
        }

        public void Halve() => _points = [.. _points.Chunk(2).Select(pair => pair.Length == 2 ? pair[0].With(pair[1]) : pair[0])];

        public LoadStretch Done() => new(members, [.. _points], [.. _configurations]) { Stood = [.. _stood] };
    }
}
