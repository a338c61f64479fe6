namespace AxleTelemetry.Storage.Sealing;

/// <summary>Sealed inputs are not what was sealed: the disk changed them.</summary>
public sealed class DamagedBlockException : IOException
{
    /// <summary>Without words.</summary>
    public DamagedBlockException()
    {
    }

    /// <summary>Which block, in words.</summary>
    public DamagedBlockException(string message)
        : base(message)
    {
    }

    /// <summary>Which block, and what led to it.</summary>
    public DamagedBlockException(string message, Exception inner)
        : base(message, inner)
    {
    }
}
