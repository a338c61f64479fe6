using System.Collections.Concurrent;
using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Places;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Service.Series;

/// <summary>The limits of a combination where and as it was when loads were told. A permit that speed had broken counts as if it held: a row of loads does not say so.</summary>
internal sealed class KnownLimits(Combination combination, LaneLaw law)
{
    private readonly ConcurrentDictionary<(int Stack, Configuration Configuration), Found> _found = [];

    /// <summary>How many axles it has.</summary>
    public int Axles => combination.Axles.Length;

    /// <summary>The strictest limit of each axle, and that of the gross mass.</summary>
    public Found At(HistoryRow.Load row) => At(row.Place, row.Key.At, row.Configuration);

    /// <summary>The same of a place and a time.</summary>
    public Found At(Place? place, Moment at, in Configuration configuration) => _found.GetOrAdd((law.StackAt(Here(place), at), configuration), Find);

    /// <summary>Whose limits they are: <c>AT</c>, <c>AT, permit EX-17</c>; empty where no country is known.</summary>
    public string Whose(Place? place, Moment at)
    {
        var here = Here(place);
        return string.Join(", permit ", law.PermitsOf(law.StackAt(here, at)).InForce.Select(p => p.Id).Prepend(here.IsNone ? "" : here.Code));
    }

    private Country Here(Place? place) => place is { } known ? law.Map.At(known.Latitude, known.Longitude, double.NaN).Here : default;

    private Found Find((int Stack, Configuration Configuration) of)
    {
        // Of a trailer that nobody described no limit is one of anything real.
        ImmutableArray<Margin> margins = [.. law.Margins(of.Stack, of.Configuration).Where(m => combination.Axles.All(a => m.Weights[a.Index] == 0 || !combination.Vehicles[a.Body].IsStandIn))];
        var gross = combination.Bodies.Length == 1 ? MarginKind.Gross : MarginKind.CombinationGross;
        return new Found(
            [.. combination.Axles.Select(a => Least(margins.Where(m => m.Key.Element == a.Index && m.Key.Kind is MarginKind.Axle or MarginKind.AxleRating or MarginKind.TyreRating)))],
            Least(margins.Where(m => m.Key.Kind == gross)));
    }

    private static double? Least(IEnumerable<Margin> margins) => margins.Min(m => (double?)m.Limit);

    /// <summary>Limits of one position of the lifts, kg; <c>null</c> where there is none.</summary>
    internal sealed record Found(ImmutableArray<double?> Axles, double? Gross);
}
