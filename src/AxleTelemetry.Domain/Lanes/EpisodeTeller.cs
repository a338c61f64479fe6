using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>Moves the episodes of what is found about instruments, and says so where one changes.</summary>
internal sealed class EpisodeTeller(LaneSetup setup, LaneState state)
{
    /// <summary>True while the episode is open.</summary>
    public bool IsOpen(int slot) => state.Episodes[slot].Level != Level.Clear;

    /// <summary>Takes a yes or no; it opens after so many in a row.</summary>
    public void Tell(int slot, bool holds, int readings, long at, List<LaneOutput> outputs, double value = 0, string unit = "")
    {
        ref var episode = ref state.Episodes[slot];
        var since = episode.OpenSince;
        var change = EpisodeTracker.Take(ref episode, holds, readings, at, state.Motion.Metres);
        if (change == EpisodeChange.None) return;
        if (episode.OpenSince != 0) since = episode.OpenSince;
        FindingDetail detail = unit.Length == 0 ? new FindingDetail.None() : new FindingDetail.Measured(value, unit);
        outputs.Add(new LaneOutput.Episode(new Moment(at), setup.Catalog.Keys[slot], change, episode.Level, new Moment(since), detail));
    }
}
