namespace AxleTelemetry.Service.Commands;

/// <summary>What a command tells the shell.</summary>
internal static class ExitCode
{
    public const int Done = 0;

    /// <summary>Done, and something was found that a strict caller wants to stop for.</summary>
    public const int Suspicious = 1;

    public const int BadInput = 2;
}
