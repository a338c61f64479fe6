namespace AxleTelemetry.Service.Receiving;

/// <summary>What came of connecting and subscribing.</summary>
internal abstract record ConnectAnswer
{
    private ConnectAnswer()
    {
    }

    /// <summary>Messages come.</summary>
    /// <param name="SessionPresent">The broker remembers us.</param>
    public sealed record Opened(bool SessionPresent) : ConnectAnswer;

    /// <summary>They do not.</summary>
    public sealed record Refused(string Trouble) : ConnectAnswer;
}
