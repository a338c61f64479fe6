namespace AxleTelemetry.Service.Commands;

/// <summary>What a command tells the shell.</summary>
internal static class ExitCode
{
    public const int Done = 0;

    /// <summary>Done, and something was found that a strict caller wants to stop for.</summary>
    public const int Suspicious = 1;

    /// <summary>Done, and a limit is likely or surely passed.</summary>
    public const int Over = 1;

    public const int BadInput = 2;
}
