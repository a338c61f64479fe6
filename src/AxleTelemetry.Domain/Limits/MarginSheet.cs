using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Limits;

/// <summary>
/// Collects the margins of one combination, one for each key: where law and papers limit the same thing, the stricter is
/// kept with its own source and notes the other, so that a reader sees the source of the limit that binds.
/// </summary>
internal sealed class MarginSheet(Combination combination)
{
    private readonly SortedDictionary<MarginKey, Margin> _margins = [];
    private readonly SortedDictionary<MarginKey, string> _remarks = [];

    public Combination Combination => combination;

    /// <summary>Weights: one on each given row, zero elsewhere.</summary>
    public ImmutableArray<double> Rows(IEnumerable<int> rows, double weight = 1)
    {
        var weights = new double[combination.Rows];
        foreach (var row in rows) weights[row] = weight;
        return [.. weights];
    }

    /// <summary>Adds a mass that may not be passed.</summary>
    public void AtMost(MarginKey key, IEnumerable<int> rows, double kilograms, LimitSource source, MarginStanding standing, string note = "") =>
        Add(new Margin { Key = key, Weights = Rows(rows), Constant = kilograms, Limit = kilograms, Source = source, Standing = standing, Note = note });

    /// <summary>Adds a margin; of two with one key the stricter stays, the first where they are equal.</summary>
    public void Add(Margin margin)
    {
        if (!_margins.TryGetValue(margin.Key, out var other))
        {
            _margins.Add(margin.Key, margin);
            return;
        }

        if (!other.Weights.AsSpan().SequenceEqual(margin.Weights.AsSpan()))
            throw new InvalidOperationException($"Two different margins share the key {margin.Key}.");
        var (kept, yields) = margin.Constant < other.Constant ? (margin, other) : (other, margin);
        _margins[margin.Key] = kept with
        {
            Note = Figure.Join(kept.Note, $"Also limited: {LimitText.Kilograms(yields.Limit)} ({LimitText.Place(yields.Source)})."),
        };
    }

    /// <summary>What stands as law so far.</summary>
    public ImmutableArray<Margin> OfLaw() => [.. _margins.Values.Where(m => m.Standing == MarginStanding.Law)];

    /// <summary>Gives a mass that is limited already another limit and source; what was said of the former one goes with it.</summary>
    public void Replace(MarginKey key, double kilograms, LimitSource source, string note)
    {
        var before = _margins[key];
        _margins[key] = before with
        {
            Constant = kilograms,
            Limit = kilograms,
            Source = source,
            Note = Figure.Join($"Instead of {LimitText.Kilograms(before.Limit)} ({LimitText.Place(before.Source)}).", note),
        };
        _remarks.Remove(key);
    }

    /// <summary>Says something of a key, whether or not a margin has it.</summary>
    public void Remark(MarginKey key, string text) =>
        _remarks[key] = Figure.Join(_remarks.GetValueOrDefault(key, ""), text);

    /// <summary>The margins in the order of their keys.</summary>
    public ImmutableArray<Margin> Margins() =>
        [.. _margins.Values.Select(m => _remarks.TryGetValue(m.Key, out var remark) ? m with { Note = Figure.Join(m.Note, remark) } : m)];

    /// <summary>What was said of keys that have no margin.</summary>
    public ImmutableArray<string> Unlimited() => [.. _remarks.Where(r => !_margins.ContainsKey(r.Key)).Select(r => r.Value)];
}
