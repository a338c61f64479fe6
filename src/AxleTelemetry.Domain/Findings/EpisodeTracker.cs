namespace AxleTelemetry.Domain.Findings;

/// <summary>
/// Hysteresis of an episode: a level must hold over two independent settled readings and one kilometre to be reached, and
/// is left at a lower probability than it was entered at, so that a load at the limit does not open and close all day.
/// </summary>
internal static class EpisodeTracker
{
    private const int LeastReadings = 2;
    private const double LeastMetres = 1000;

    /// <summary>Takes one settled judgement of a limit.</summary>
    /// <param name="state">Where the finding stands.</param>
    /// <param name="deviations">Standard deviations above the limit.</param>
    /// <param name="cap">Highest level that may be reached (a one-sided circuit is never sure).</param>
    /// <param name="at">Moment, Unix milliseconds.</param>
    /// <param name="metres">Odometer, m.</param>
    public static EpisodeChange Take(ref EpisodeState state, double deviations, Level cap, long at, double metres)
    {
        Count(ref state, deviations, at, metres);
        var reached = state.Level;
        if (Held(state.LikelyCount, state.LikelyFrom, metres) && cap >= Level.Likely) reached = Max(reached, Level.Likely);
        if (Held(state.SurelyCount, state.SurelyFrom, metres) && cap >= Level.Surely) reached = Level.Surely;
        if (reached == Level.Surely && deviations < Levels.LikelyFrom) reached = Level.Likely;
        if (reached == Level.Likely && deviations < 0) reached = Level.Clear;
        return Move(ref state, reached, at);
    }

    /// <summary>Takes a plain yes or no: something about an instrument or a running cost. It opens after <paramref name="readings"/> in a row.</summary>
    public static EpisodeChange Take(ref EpisodeState state, bool holds, int readings, long at, double metres)
    {
        if (!holds)
        {
            state.LikelyCount = 0;
            return Move(ref state, Level.Clear, at);
        }

        if (state.LikelyCount++ == 0)
        {
            state.LikelyFrom = metres;
            state.LikelySince = at;
        }

        return Move(ref state, state.LikelyCount >= readings ? Level.Likely : state.Level, at);
    }

    /// <summary>The load or the configuration changed: what was gathered towards opening no longer counts.</summary>
    public static void Forget(ref EpisodeState state)
    {
        state.LikelyCount = 0;
        state.SurelyCount = 0;
    }

    private static void Count(ref EpisodeState state, double deviations, long at, double metres)
    {
        if (deviations < Levels.LikelyFrom) state.LikelyCount = 0;
        else if (state.LikelyCount++ == 0)
        {
            state.LikelyFrom = metres;
            state.LikelySince = at;
        }

        if (deviations < Levels.SurelyFrom) state.SurelyCount = 0;
        else if (state.SurelyCount++ == 0) state.SurelyFrom = metres;
    }

    private static bool Held(int count, double from, double metres) => count >= LeastReadings && metres - from >= LeastMetres;

    private static EpisodeChange Move(ref EpisodeState state, Level reached, long at)
    {
        var before = state.Level;
        state.Level = reached;
        if (before == reached) return EpisodeChange.None;
        if (before == Level.Clear)
        {
            state.OpenSince = state.LikelySince == 0 ? at : state.LikelySince;
            state.Peak = double.NegativeInfinity;
            return EpisodeChange.Opened;
        }

        if (reached != Level.Clear) return reached > before ? EpisodeChange.Rose : EpisodeChange.Fell;
        state.OpenSince = 0;
        return EpisodeChange.Closed;
    }

    private static Level Max(Level a, Level b) => a > b ? a : b;
}
