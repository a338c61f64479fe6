using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Serving;

namespace AxleTelemetry.Service.Register;

/// <summary>The band of Regulation (EU) 2016/403 that the greatest excess would fall in. No finding of an authority.</summary>
/// <param name="ByMean"><c>none</c>, <c>serious</c>, <c>very_serious</c>, <c>most_serious</c>: by the best estimate.</param>
/// <param name="ByLowerBound">By the lower end of the 95 % interval: at least this, as far as can be told.</param>
/// <param name="HouseRule">True for an axle or a group, for which the Regulation has no bands: those for gross mass are applied.</param>
/// <param name="Words">For people, as what it is.</param>
internal sealed record BandDocument(string ByMean, string ByLowerBound, bool HouseRule, string Words)
{
    /// <summary>The band of an overload; <c>null</c> for what has none: shares, ratings, rules of the house, vehicles not known as they were.</summary>
    public static BandDocument? Of(FindingKey key, EpisodeSubject.Limit? limit, Combination? combination)
    {
        if (key.Kind != FindingKind.Overload || limit is not { Standing: MarginStanding.Law } || combination is null) return null;
        Func<Mass, Mass, Mass, Seriousness>? band = key.Margin.Kind switch
        {
            MarginKind.Gross or MarginKind.CombinationGross => Seriousness.OfGross,
            MarginKind.Axle or MarginKind.Group or MarginKind.Bridge => Seriousness.OfAxle,
            MarginKind.DrivingShare or MarginKind.SteeringShare or MarginKind.AxleRating or MarginKind.TyreRating or MarginKind.CouplingLeast or MarginKind.CouplingMost => null,
            _ => throw new ArgumentOutOfRangeException(nameof(key), key.Margin.Kind, "Unknown kind."),
        };
        if (band is null) return null;
        var registered = combination.Vehicles[0].Registered.Gross;
        var (mean, lower) = (At(limit.Peak.Mean), At(limit.Peak.Low));
        return new BandDocument(
            JsonText.Word(mean.Band), JsonText.Word(lower.Band), mean.IsHouseRule,
            mean.Band == lower.Band ? $"{mean.Text}. No finding of an authority." : $"{mean.Text}; by the lower end of the interval {JsonText.Word(lower.Band).Replace('_', ' ')}. No finding of an authority.");

        Seriousness At(double excess) => band(Mass.FromKilograms(limit.Value + excess), Mass.FromKilograms(limit.Value), registered);
    }
}
