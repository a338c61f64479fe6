using System.Collections.Concurrent;
using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Places;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;

namespace AxleTelemetry.Service.Drives;

/// <summary>
/// Limits of groups, vehicles and shares where and as they were when loads were told: those that are neither of one axle nor of all that stands on the road.
/// Of couplings a row of loads says nothing; a permit that speed had broken counts as if it held.
/// </summary>
internal sealed class KnownMargins(Combination combination, LaneLaw law)
{
    private readonly Names _names = new(combination);
    private readonly ConcurrentDictionary<(int Stack, Configuration Configuration), ImmutableArray<Margin>> _found = [];

    /// <summary>The one of them that was closest, or passed most; <c>null</c> where there was none, or of one of their axles no figure.</summary>
    public (string Name, Estimated Excess)? Closest(HistoryRow.Load row)
    {
        if (row.Axles.Length != combination.Axles.Length) return null;
        (Margin Margin, Estimated Excess)? closest = null;
        foreach (var margin in _found.GetOrAdd((law.StackAt(Here(row.Place), row.Key.At), row.Configuration), Find))
        {
            if (Excess(margin, row) is not { } excess) return null;
            if (closest is null || excess.Mean > closest.Value.Excess.Mean) closest = (margin, excess);
        }

        return closest is { } known ? (_names.Limited(known.Margin), known.Excess) : null;
    }

    // How the errors of the axles hang together a row does not keep: at most they all go one way.
    private static Estimated? Excess(Margin margin, HistoryRow.Load row)
    {
        var (mean, sd) = (-margin.Constant, 0.0);
        for (var axle = 0; axle < row.Axles.Length; axle++)
        {
            var weight = margin.Weights[axle];
            if (weight == 0 || row.Configuration[axle] == AxleState.Raised) continue;
            if (row.Axles[axle] is not { } load) return null;
            mean += weight * load.Mean;
            sd += Math.Abs(weight) * load.Sd;
        }

        return new Estimated(mean, sd);
    }

    private ImmutableArray<Margin> Find((int Stack, Configuration Configuration) of) => [.. law.Margins(of.Stack, of.Configuration).Where(m => IsOfMany(m) && m.Standing != MarginStanding.HouseRule && IsKnown(m))];

    private bool IsOfMany(Margin margin) => margin.Key.Kind switch
    {
        MarginKind.Group or MarginKind.Bridge or MarginKind.DrivingShare or MarginKind.SteeringShare => true,
        MarginKind.Gross => combination.Bodies.Length > 1,
        MarginKind.Axle or MarginKind.AxleRating or MarginKind.TyreRating or MarginKind.CombinationGross or MarginKind.CouplingLeast or MarginKind.CouplingMost => false,
        _ => throw new ArgumentOutOfRangeException(nameof(margin), margin.Key.Kind, "Unknown kind."),
    };

    // Rows of loads are of axles; of a trailer that nobody described no limit is one of anything real.
    private bool IsKnown(Margin margin) =>
        margin.Weights.Skip(combination.Axles.Length).All(w => w == 0) && combination.Axles.All(a => margin.Weights[a.Index] == 0 || !combination.Vehicles[a.Body].IsStandIn);

    private Country Here(Place? place) => place is { } known ? law.Map.At(known.Latitude, known.Longitude, double.NaN).Here : default;
}
