using System.Collections.Immutable;

namespace AxleTelemetry.Domain.Planning;

/// <summary>Finds what bounds a payload along the load space.</summary>
internal static class Envelope
{
    // Places closer than this are one; a slope below it is none.
    private const double SamePlace = 1e-9, NoSlope = 1e-12;

    /// <summary>The stretches front to rear. Of several sets of lines each holds where its own lines permit it to.</summary>
    public static ImmutableArray<DiagramStretch> Of(ImmutableArray<ImmutableArray<BoundLine>> sets, (double Front, double Rear) range)
    {
        if (sets.Length == 1) return Along(sets, range);
        // Most sets of valves hold nowhere: without them there are far fewer meetings to look at.
        ImmutableArray<ImmutableArray<BoundLine>> holding = [.. sets.Where(s => Along([s], range).Any(stretch => stretch is DiagramStretch.Open))];
        return Along(holding.IsEmpty ? [sets[0]] : holding, range);
    }

    private static ImmutableArray<DiagramStretch> Along(ImmutableArray<ImmutableArray<BoundLine>> sets, (double Front, double Rear) range)
    {
        var stretches = ImmutableArray.CreateBuilder<DiagramStretch>();
        var places = Places(sets, range);
        for (var i = 1; i < places.Length; i++)
        {
            var stretch = Between(sets, places[i - 1], places[i]);
            if (stretches.Count > 0 && stretches[^1].Continues(stretch)) stretches[^1] = stretches[^1] with { To = stretch.To };
            else stretches.Add(stretch);
        }

        return stretches.ToImmutable();
    }

    /// <summary>Every place at which the order of bounds may change.</summary>
    private static ImmutableArray<double> Places(ImmutableArray<ImmutableArray<BoundLine>> sets, (double Front, double Rear) range)
    {
        var all = new List<double> { range.Front, range.Rear };
        void Add(double? place)
        {
            if (place is { } x && x > range.Front && x < range.Rear) all.Add(x);
        }

        foreach (var lines in sets)
        {
            for (var i = 0; i < lines.Length; i++)
            {
                Add(lines[i].Pole);
                for (var k = 0; k < i; k++) Add(lines[i].Meets(lines[k]));
            }
        }

        all.Sort();
        var places = ImmutableArray.CreateBuilder<double>();
        foreach (var x in all)
            if (places.Count == 0 || x - places[^1] > SamePlace) places.Add(x);
        places[^1] = range.Rear;
        return places.ToImmutable();
    }

    private static DiagramStretch Between(ImmutableArray<ImmutableArray<BoundLine>> sets, double from, double to)
    {
        var middle = (from + to) / 2;
        (BoundLine Most, BoundLine? Least)? open = null;
        (BoundLine Passed, BoundLine? With, double By)? shut = null;
        foreach (var lines in sets)
        {
            var (most, least, never) = Bounds(lines, middle);
            var (high, low) = (most?.At(middle) ?? double.PositiveInfinity, least?.At(middle) ?? 0);
            if (never is null && high >= low && most is not null)
            {
                if (open is not { } known) open = (most, least);
                else open = (high > known.Most.At(middle) ? most : known.Most, low < (known.Least?.At(middle) ?? 0) ? least : known.Least);
            }
            else if ((never ?? most) is { } passed && low - high is var by && (shut is not { } s || by < s.By))
            {
                shut = (passed, never is null && high >= 0 ? least : null, by);
            }
        }

        return open is { } permitted ? new DiagramStretch.Open(from, to, permitted.Most, permitted.Least)
            : shut is { } closed ? new DiagramStretch.Shut(from, to, closed.Passed, closed.With)
            : throw new InvalidOperationException("Nothing bounds the payload, though every vehicle has a registered gross mass.");
    }

    /// <summary>Least bound above, greatest bound below that is more than nothing, and a line that is passed whatever the payload.</summary>
    private static (BoundLine? Most, BoundLine? Least, BoundLine? Never) Bounds(ImmutableArray<BoundLine> lines, double x)
    {
        BoundLine? most = null, least = null, never = null;
        double high = double.PositiveInfinity, low = 0;
        foreach (var line in lines)
        {
            var (slope, at) = (line.SlopeAt(x), line.At(x));
            if (slope > NoSlope)
            {
                if (at < high) (most, high) = (line, at);
            }
            else if (slope < -NoSlope)
            {
                if (at > low) (least, low) = (line, at);
            }
            else if (line.Constant > 0 && line.Constant > (never?.Constant ?? 0))
            {
                never = line;
            }
        }

        return (most, least, never);
    }
}
