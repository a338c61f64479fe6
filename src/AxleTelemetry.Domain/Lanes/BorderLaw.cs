using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Places;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>What a border does to what is found: limits that are others behind it, advice ahead of it, and none of both where its side cannot be told.</summary>
internal sealed class BorderLaw(LaneSetup setup, LaneState state, EpisodeTeller teller)
{
    /// <summary>
    /// Other limits hold from now on: an episode of a limit that is another there ends here, so that the register has one row for each law. What was gathered
    /// towards opening counts no more: that is for <see cref="Judgement.NewLoad"/>.
    /// </summary>
    public void Leave(int next, long at, List<LaneOutput> outputs)
    {
        for (var slot = 0; slot < setup.Catalog.Margins.Length; slot++)
        {
            if (state.Episodes[slot].Level == Level.Clear || IsSame(slot, next)) continue;
            teller.Tell(slot, false, 1, at, outputs);
            state.Episodes[slot] = default;
        }
    }

    /// <summary>Near a border: says that its side cannot be told, and once that a limit would be passed on the other side.</summary>
    public void Tell(bool undecided, bool headsAcross, long at, List<LaneOutput> outputs)
    {
        teller.Tell(setup.Catalog.CountryUndecided, undecided && IsOtherLaw(state.Place.StackAcross), 1, at, outputs);
        ref var episode = ref state.Episodes[setup.Catalog.OverAcrossBorder];
        // Once it is told it stands until the border is out of sight or behind.
        var holds = episode.Level != Level.Clear && state.Place.StackAcross != state.Place.Stack;
        FindingDetail detail = new FindingDetail.None();
        if (episode.Level == Level.Clear && headsAcross && OverAcross() is { } over) (holds, detail) = (true, over);
        var since = episode.OpenSince;
        var change = EpisodeTracker.Take(ref episode, holds, 1, at, state.Motion.Metres);
        if (change == EpisodeChange.None) return;
        if (episode.OpenSince != 0) since = episode.OpenSince;
        outputs.Add(new LaneOutput.Episode(new Moment(at), setup.Catalog.Keys[setup.Catalog.OverAcrossBorder], change, episode.Level, new Moment(since), detail));
    }

    /// <summary>True where a limit is the same under another stack of tables, in the configuration driven.</summary>
    public bool IsSame(int slot, int stack)
    {
        var configuration = ConfigurationRule.Now(setup, state);
        var (now, then) = (Find(state.Place.Stack, configuration, setup.Catalog.Margins[slot]), Find(stack, configuration, setup.Catalog.Margins[slot]));
        return now is null ? then is null : then is not null && now.Constant == then.Constant && now.Standing == then.Standing && IsSamePermit(now.Source, then.Source);
    }

    // Tables of equal mass are one law to whoever drives on; what a permit allows is allowed by it alone.
    private static bool IsSamePermit(LimitSource now, LimitSource then) => (now.Status == LimitStatus.Permit, then.Status == LimitStatus.Permit) switch
    {
        (false, false) => true,
        (true, true) => now.Title == then.Title,
        _ => false,
    };

    private Margin? Find(int stack, in Configuration configuration, MarginKey key)
    {
        if (setup.TableAt(stack).At(configuration, state.Payload.State) is not { } judged) return null;
        foreach (var margin in judged.Margins)
            if (margin.Key == key)
                return margin;
        return null;
    }

    /// <summary>The law that is passed most across the border and holds on this side.</summary>
    private FindingDetail.Excess? OverAcross()
    {
        if (state.Load.MayHaveChanged != 0 || state.Payload.Readings == 0) return null;
        var configuration = ConfigurationRule.Now(setup, state);
        if (setup.TableAt(state.Place.StackAcross).At(configuration, state.Payload.State) is not { } across) return null;
        (Verdict Verdict, int Margin)? worst = null;
        for (var i = 0; i < across.Margins.Length; i++)
        {
            var verdict = across.Judge(i, setup.Estimator, state.Payload, state.Known);
            if (verdict.Margin.Standing != MarginStanding.Law || verdict.CannotTell || verdict.Deviations < Levels.LikelyFrom || IsOverHere(configuration, verdict.Margin.Key)) continue;
            if (worst is not { } most || verdict.Excess.Mean > most.Verdict.Excess.Mean) worst = (verdict, i);
        }

        if (worst is not { } found) return null;
        var here = state.Place.Stack;
        state.Place.Stack = state.Place.StackAcross;
        var detail = LaneSaying.Excess(setup, state, (found.Verdict, across, found.Margin), state.Payload) with { Across = Country.FromNumber(state.Place.Across) };
        state.Place.Stack = here;
        return detail;
    }

    private bool IsOverHere(in Configuration configuration, MarginKey key)
    {
        if (setup.TableAt(state.Place.Stack).At(configuration, state.Payload.State) is not { } here) return false;
        for (var i = 0; i < here.Margins.Length; i++)
            if (here.Margins[i].Key == key && here.IsPassed(i, state.Payload, state.Known))
                return true;
        return false;
    }

    private bool IsOtherLaw(int stack)
    {
        for (var slot = 0; slot < setup.Catalog.Margins.Length; slot++)
            if (!IsSame(slot, stack))
                return true;
        return false;
    }
}
