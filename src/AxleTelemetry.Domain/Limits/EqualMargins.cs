using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Limits;

/// <summary>
/// Keeps one of what is equal among the limits of one combination: from country to country and from one position of the lifts to the next most stay what they
/// are, papers and ratings all of them.
/// </summary>
internal sealed class EqualMargins
{
    private const int Most = 256;

    private readonly KeptRow<Margin> _kept = new(Most);

    /// <summary>The same limits, those that were there before as they were.</summary>
    public ImmutableArray<Margin> Of(ImmutableArray<Margin> margins) => [.. margins.Select(Of)];

    private Margin Of(Margin margin)
    {
        var (weights, source) = (margin.Weights, margin.Source);
        foreach (var kept in _kept.All)
        {
            if (kept.IsSame(margin)) return kept;
            if (kept.Weights.AsSpan().SequenceEqual(weights.AsSpan())) weights = kept.Weights;
            if (kept.Source == source) source = kept.Source;
        }

        return _kept.Keep(margin with { Weights = weights, Source = source }, static (a, b) => a.IsSame(b));
    }
}
