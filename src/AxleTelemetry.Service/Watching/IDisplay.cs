
namespace AxleTelemetry.Service.Watching;

/// <summary>How a watch is shown: lines for a file or a pipe, JSON for programs, a table for a terminal. Told things one at a time.</summary>
internal interface IDisplay
{
    /// <summary>Something came to light.</summary>
    void Tell(FleetEvent happened);

    /// <summary>Something about the watch itself: connected, connection lost.</summary>
    void Note(string text);

    /// <summary>Shows what is not told but looked at, until cancelled.</summary>
    Task ShowAsync(FleetWatch watch, CancellationToken cancel);

    /// <summary>The watch is over.</summary>
    void End(WatchSummary summary);
}
