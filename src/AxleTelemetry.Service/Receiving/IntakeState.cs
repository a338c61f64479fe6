using System.Globalization;

namespace AxleTelemetry.Service.Receiving;

/// <summary>Whether messages are taken, or why not.</summary>
internal abstract record IntakeState
{
    private IntakeState()
    {
    }

    /// <summary>The reason in words, for the health page and the log.</summary>
    public abstract string Text { get; }

    /// <summary>Messages are taken.</summary>
    public sealed record Taking : IntakeState
    {
        public override string Text => "Messages are taken.";
    }

    /// <summary>As much as may wait is waiting; over when half of it is committed.</summary>
    public sealed record Full(long Bytes) : IntakeState
    {
        public override string Text => string.Create(CultureInfo.InvariantCulture, $"{Bytes / 1024} KiB wait to be committed, which is the most that may. No message is taken until half of them are.");
    }

    /// <summary>The journal takes nothing; over with the first commit that works.</summary>
    public sealed record CommitsFailing(DateTimeOffset Since, string Why) : IntakeState
    {
        public override string Text => string.Create(CultureInfo.InvariantCulture, $"The journal has taken nothing since {Since:yyyy-MM-ddTHH:mm:ssZ}: {Why} No message is taken until it does.");
    }
}
