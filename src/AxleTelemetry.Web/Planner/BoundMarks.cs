using System.Collections.Immutable;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Web.Planner;

/// <summary>What bounds the payload in one position of the lifts, each thing with a number that stands at every place of the curve where it bounds.</summary>
/// <param name="Number">From 1, front to rear, what bounds above first.</param>
/// <param name="Words">What it is.</param>
/// <param name="Kind">How it bounds.</param>
/// <param name="Over">Where along the body, m.</param>
/// <param name="At">Where the number stands.</param>
internal sealed record BoundMark(int Number, string Words, BoundKind Kind, ImmutableArray<(double From, double To)> Over, ImmutableArray<PlacedLoad> At)
{
    public static ImmutableArray<BoundMark> Of(PlannedPosition position) =>
        [.. All(position).GroupBy(b => (b.Words, b.Kind)).OrderBy(g => g.Key.Kind).Select((g, i) => new BoundMark(i + 1, g.Key.Words, g.Key.Kind, Joined(g.Select(b => b.Over)), [.. g.Where(b => b.At is not null).Select(b => b.At!.Value)]))];

    private static IEnumerable<(string Words, BoundKind Kind, (double From, double To) Over, PlacedLoad? At)> All(PlannedPosition position)
    {
        foreach (var stretch in position.Stretches)
        {
            if (stretch.Most.IsEmpty) yield return (stretch.Against is { } against ? $"{stretch.Bound}, {against}" : stretch.Bound, BoundKind.Shut, (stretch.From, stretch.To), new((stretch.From + stretch.To) / 2, 0));
            else yield return (stretch.Bound, BoundKind.Most, (stretch.From, stretch.To), Middle(stretch.Most));
        }

        // A bound below goes on while those above change: its number stands once, where it is longest.
        foreach (var least in position.Stretches.Where(s => !s.Least.IsEmpty).GroupBy(s => s.Against!))
        {
            var longest = least.MaxBy(s => s.To - s.From)!;
            foreach (var stretch in least) yield return (least.Key, BoundKind.Least, (stretch.From, stretch.To), stretch == longest ? Middle(stretch.Least) : null);
        }

        foreach (var house in position.House) yield return (house.Bound, BoundKind.House, (house.From, house.To), Middle(house.Points));
    }

    private static PlacedLoad Middle(ImmutableArray<PlacedLoad> curve)
    {
        var middle = (curve[0].Metres + curve[^1].Metres) / 2;
        var next = Math.Max(1, curve.Select((p, i) => (p, i)).First(p => p.p.Metres >= middle).i);
        var (a, b) = (curve[next - 1], curve[next]);
        return new(middle, b.Metres <= a.Metres ? a.Kilograms : a.Kilograms + (b.Kilograms - a.Kilograms) * (middle - a.Metres) / (b.Metres - a.Metres));
    }

    /// <summary>Stretches that touch, as one.</summary>
    private static ImmutableArray<(double, double)> Joined(IEnumerable<(double From, double To)> stretches)
    {
        const double Touching = 0.001;
        var joined = new List<(double From, double To)>();
        foreach (var next in stretches.OrderBy(s => s.From))
            if (joined.Count > 0 && next.From - joined[^1].To <= Touching) joined[^1] = (joined[^1].From, next.To);
            else joined.Add(next);
        return [.. joined];
    }
}

/// <summary>How something bounds a payload.</summary>
internal enum BoundKind
{
    /// <summary>No more than.</summary>
    Most,

    /// <summary>No less than.</summary>
    Least,

    /// <summary>None at all is permitted.</summary>
    Shut,

    /// <summary>A rule of the house, no law.</summary>
    House,
}
