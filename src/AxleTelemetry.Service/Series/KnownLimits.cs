using System.Collections.Concurrent;
using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Service.Series;

/// <summary>The limits of a combination where and as it was when loads were told. A permit that speed had broken counts as if it held: a row of loads does not say so.</summary>
internal sealed class KnownLimits(Combination combination, LaneLaw law)
{
    private readonly ConcurrentDictionary<(int Stack, Configuration Configuration), Found> _found = [];

    /// <summary>The strictest limit of each axle, and that of the gross mass.</summary>
    public Found At(HistoryRow.Load row)
    {
        var here = row.Place is { } place ? law.Map.At(place.Latitude, place.Longitude, double.NaN).Here : default;
        return _found.GetOrAdd((law.StackAt(here, row.Key.At), row.Configuration), Find);
    }

    private Found Find((int Stack, Configuration Configuration) of)
    {
        var margins = law.Margins(of.Stack, of.Configuration);
        var gross = combination.Bodies.Length == 1 ? MarginKind.Gross : MarginKind.CombinationGross;
        return new Found(
            [.. combination.Axles.Select(a => Least(margins.Where(m => m.Key.Element == a.Index && m.Key.Kind is MarginKind.Axle or MarginKind.AxleRating or MarginKind.TyreRating)))],
            Least(margins.Where(m => m.Key.Kind == gross)));
    }

    private static double? Least(IEnumerable<Margin> margins) => margins.Min(m => (double?)m.Limit);

    /// <summary>Limits of one position of the lifts, kg; <c>null</c> where there is none.</summary>
    internal sealed record Found(ImmutableArray<double?> Axles, double? Gross);
}
