using System.Globalization;

namespace AxleTelemetry.Service.Receiving;

/// <summary>A change in how messages reach us, one line in a log each; the latest one is the receiver's health.</summary>
internal abstract record ReceiverNotice
{
    private ReceiverNotice()
    {
    }

    /// <summary>Whether messages are being received.</summary>
    public virtual bool Ready => false;

    /// <summary>For the log and the health page; no secrets.</summary>
    public abstract string Text { get; }

    public sealed record Starting : ReceiverNotice
    {
        public override string Text => "Not connected yet.";
    }

    /// <summary>Messages come.</summary>
    /// <param name="Address">From where.</param>
    /// <param name="Connection">Number of the connection.</param>
    /// <param name="Forgotten">The broker has forgotten the session: what it held for us is lost.</param>
    public sealed record Connected(string Address, long Connection, bool Forgotten) : ReceiverNotice
    {
        public override bool Ready => true;

        public override string Text => Forgotten
            ? $"Connected to {Address} again, but the broker has forgotten the session: messages sent meanwhile are missing."
            : $"Connected to {Address}.";
    }

    /// <summary>No messages come.</summary>
    public sealed record Troubled(string Trouble, TimeSpan Wait) : ReceiverNotice
    {
        public override string Text => string.Create(CultureInfo.InvariantCulture, $"{Trouble} Trying again in {Wait.TotalSeconds:0.0} s.");
    }

    /// <summary>No messages come, because we turned them away.</summary>
    public sealed record Holding(string Address, IntakeState Why) : ReceiverNotice
    {
        public override string Text => $"Disconnected from {Address} on purpose. {Why.Text}";
    }

    public sealed record Stopped : ReceiverNotice
    {
        public override string Text => "Stopped.";
    }
}
