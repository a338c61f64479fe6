using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>Says in full, with what would end it, that a limit is passed.</summary>
public static class LaneSaying
{
    /// <summary>
    /// Says anew what a lane holds open, by what it knows now: for people who are called later than it was found. <c>null</c> for what is not open,
    /// and for what is no limit.
    /// </summary>
    /// <param name="lane">The lane; it is not changed.</param>
    /// <param name="key">What was found.</param>
    public static LaneOutput.Episode? SayAgain(this Lane lane, FindingKey key)
    {
        ArgumentNullException.ThrowIfNull(lane);
        var (setup, state) = (lane.Setup, lane.State);
        if (key.Kind != FindingKind.Overload || setup.Catalog.IndexOf(key.Margin) is not (>= 0 and var slot)) return null;
        var open = state.Episodes[slot];
        if (open.Level == Level.Clear || state.Payload.Readings == 0 || setup.TableAt(state.Place.Stack).At(lane.Configuration, state.Payload.State) is not { } judged) return null;
        for (var i = 0; i < judged.Margins.Length; i++)
        {
            if (judged.Margins[i].Key != key.Margin) continue;
            var verdict = judged.Judge(i, setup.Estimator, state.Payload, state.Known);
            return new LaneOutput.Episode(new Moment(state.Load.SettledAt), key, EpisodeChange.Opened, open.Level, new Moment(open.OpenSince), Excess(setup, state, (verdict, judged, i), state.Payload));
        }

        return null;
    }

    internal static FindingDetail.Excess Excess(LaneSetup setup, LaneState state, (Verdict Verdict, JudgedConfiguration Judged, int Margin) of, PayloadEstimate estimate)
    {
        var (verdict, judged, margin) = of;
        var remedies = verdict.Excess.Mean > 0
            ? setup.RemediesAt(state.Place.Stack).Solve(estimate, state.Known, judged.Map.Configuration)
            : ImmutableArray<Remedy>.Empty;
        // A share is missed from below: what is told is the load that is too small.
        var load = verdict.Margin.Constant > 0
            ? verdict.Excess with { Mean = verdict.Excess.Mean + verdict.Margin.Constant }
            : verdict.Excess with { Mean = verdict.Scale - verdict.Excess.Mean };
        return new FindingDetail.Excess(judged.Judge(margin, setup.Estimator, estimate, state.Known), load, remedies);
    }
}
