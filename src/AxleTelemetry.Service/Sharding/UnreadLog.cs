using System.Data.Common;

namespace AxleTelemetry.Service.Sharding;

/// <summary>Tells a log that cannot be read now from a rule of ours that is broken.</summary>
internal static class UnreadLog
{
    /// <summary>True where an exception says that the log could not be read.</summary>
    public static bool Is(Exception failed) => failed is IOException or UnauthorizedAccessException or DbException;
}
