using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Simulator.Days;

/// <summary>What comes of a day: what is sent, and what is true.</summary>
public abstract record DayOutput
{
    private DayOutput() { }

    /// <summary>When: a message by when it is sent.</summary>
    public abstract Moment At { get; }

    /// <summary>A device sends a message.</summary>
    public sealed record Sent(SentMessage Message) : DayOutput
    {
        /// <inheritdoc/>
        public override Moment At => Message.SentAt;
    }

    /// <summary>Something is true.</summary>
    public sealed record True(TruthRecord Record) : DayOutput
    {
        /// <inheritdoc/>
        public override Moment At => Record.At;
    }
}
