namespace AxleTelemetry.Simulator.Days;

/// <summary>What comes of a day: what is sent, and what is true.</summary>
public abstract record DayOutput
{
    private DayOutput() { }

    /// <summary>A device sends a message.</summary>
    public sealed record Sent(SentMessage Message) : DayOutput;

    /// <summary>Something is true.</summary>
    public sealed record True(TruthRecord Record) : DayOutput;
}
