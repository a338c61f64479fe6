namespace AxleTelemetry.Messages.Payloads;

/// <summary>The bounds of a message. What goes over one is refused and counted.</summary>
public static class ContractLimits
{
    /// <summary>Bytes of a payload.</summary>
    public const int MaxBytes = 64 * 1024;

    /// <summary>Samples of a message.</summary>
    public const int MaxSamples = 1000;

    /// <summary>Levels of nesting, the message itself being the first. The contract needs four; the rest is for unknown fields.</summary>
    public const int MaxDepth = 16;

    /// <summary>Trailers behind one vehicle.</summary>
    public const int MaxTrailers = 8;
}
