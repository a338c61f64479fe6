namespace AxleTelemetry.Service.Receiving;

/// <summary>How a try to receive from a broker ended.</summary>
internal abstract record ConnectionEnd
{
    private ConnectionEnd()
    {
    }

    /// <summary>There was no connection, or not for long: to be tried again later.</summary>
    public sealed record Failed(string Trouble) : ConnectionEnd;

    /// <summary>It worked for a while: to be made again at once.</summary>
    public sealed record Lost(string Trouble) : ConnectionEnd;

    /// <summary>We left, because messages could not be taken.</summary>
    public sealed record Left(IntakeState Why) : ConnectionEnd;

    /// <summary>We were told to stop.</summary>
    public sealed record Stopped : ConnectionEnd;
}
