namespace AxleTelemetry.Service.Delivering;

/// <summary>
/// When a message is tried again that the other side did not take. The pauses double and are of uneven length, so that many messages do not come back at once.
/// They are kept with the message: a pause outlives the process.
/// </summary>
internal static class RetryTimes
{
    private static readonly TimeSpan First = TimeSpan.FromSeconds(5), Longest = TimeSpan.FromMinutes(15), LongestAsked = TimeSpan.FromHours(1);

    /// <summary>How long to wait after so many failed attempts, at least what the other side asks for.</summary>
    /// <param name="attempts">Attempts that failed; 1 after the first.</param>
    /// <param name="chance">From 0 to 1, drawn anew each time.</param>
    /// <param name="asked">What the other side asks for; <c>null</c> where it does not say.</param>
    public static TimeSpan After(int attempts, double chance, TimeSpan? asked)
    {
        var doubled = Math.Min(First.TotalSeconds * Math.Pow(2, Math.Clamp(attempts - 1, 0, 20)), Longest.TotalSeconds);
        var pause = TimeSpan.FromSeconds(doubled * (0.5 + chance / 2));
        return asked is { } wanted && Asked(wanted) is var granted && granted > pause ? granted : pause;
    }

    /// <summary>The pause that is granted where one is asked for: an hour at most, as alerts grow old.</summary>
    public static TimeSpan Asked(TimeSpan asked) => asked < LongestAsked ? asked : LongestAsked;
}
