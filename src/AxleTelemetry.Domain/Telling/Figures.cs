using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;

namespace AxleTelemetry.Domain.Telling;

/// <summary>What an alert keeps of a finding.</summary>
internal static class Figures
{
    public static AlertFigures? Of(LaneOutput.Episode? episode) => episode?.Detail is FindingDetail.Excess excess
        ? new AlertFigures(excess.Verdict.Excess.Mean, excess.Verdict.Excess.Sd, excess.Verdict.Scale)
        : null;

    /// <summary>The episode as it is after it was said; without a limit in it, as grave as a law.</summary>
    public static ToldEpisode Told(LaneOutput.Episode said) =>
        new(new AlertSubject(said.Key), said.Since, said.Level, said.Level, Standing(said) ?? MarginStanding.Law, null);

    /// <summary>The same episode one change later.</summary>
    public static ToldEpisode Moved(ToldEpisode before, LaneOutput.Episode said)
    {
        if (said.Change == EpisodeChange.Closed) return before with { Ended = said.At };
        var standing = Standing(said) is { } now && now < before.Standing ? now : before.Standing;
        var highest = said.Level > before.Highest ? said.Level : before.Highest;
        // What was stated when it was only likely does not answer for what is sure by now.
        return before with { Level = said.Level, Highest = highest, Standing = standing, Stated = before.Stated && highest == before.Highest };
    }

    private static MarginStanding? Standing(LaneOutput.Episode said) =>
        said.Detail is FindingDetail.Excess excess ? excess.Verdict.Margin.Standing : null;
}
