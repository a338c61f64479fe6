using AxleTelemetry.Messages.Refusals;

namespace AxleTelemetry.Messages.Recordings;

/// <summary>What one line of a recording gave: a message, or why not. There is no third case.</summary>
public abstract record RecordingEntry
{
    private RecordingEntry(long line) => Line = line;

    /// <summary>Number of the line, the first being 1.</summary>
    public long Line { get; }

    /// <summary>A message.</summary>
    public sealed record Read(long Line, RecordedMessage Message) : RecordingEntry(Line);

    /// <summary>A line that holds none.</summary>
    public sealed record Unreadable(long Line, Refusal Refusal) : RecordingEntry(Line)
    {
        /// <summary>One line for a person or a log.</summary>
        public override string ToString() => $"line {Line}: {Refusal}";
    }
}
