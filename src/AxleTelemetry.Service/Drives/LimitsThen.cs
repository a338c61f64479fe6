using System.Collections.Immutable;
using AxleTelemetry.Service.Series;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Service.Drives;

/// <summary>
/// The limits of a line through time, as rows of loads carry none: derived from configuration, place and lifts of then. Not as exact as the lane was: how
/// sure a position was is not kept, so beside a border its side may differ by some hundred metres, and that a permit was broken by speed is not seen.
/// </summary>
internal static class LimitsThen
{
    /// <summary>One entry for each change, <c>null</c> in it where there was no figure to judge; empty where a description changed since has other axles.</summary>
    public static ImmutableArray<LimitsAt> Over(LoadStretch stretch, KnownLimits limits)
    {
        if (limits.Axles != stretch.Points[0].Axles.Length) return [];
        var steps = ImmutableArray.CreateBuilder<LimitsAt>();
        foreach (var one in stretch.Stood)
            if (At(one, limits) is var now && (steps.Count == 0 || !IsSame(steps[^1], now)))
                steps.Add(now);
        return steps.ToImmutable();
    }

    private static LimitsAt At(StoodAt stood, KnownLimits limits)
    {
        var known = limits.At(stood.Place, stood.At, stood.Configuration);
        return new(stood.At, stood.Gross ? known.Gross : null, [.. known.Axles.Select((limit, axle) => (stood.Axles >> axle & 1) == 0 ? null : limit)], limits.Whose(stood.Place, stood.At));
    }

    private static bool IsSame(LimitsAt a, LimitsAt b) => a.Gross == b.Gross && a.Law == b.Law && a.Axles.AsSpan().SequenceEqual(b.Axles.AsSpan());
}
