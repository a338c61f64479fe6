using Microsoft.Extensions.Logging;

namespace AxleTelemetry.Web.Accounts;

/// <summary>Lines of the log about accounts; 6xx. No secrets, no names of people.</summary>
internal static partial class AccountLines
{
    [LoggerMessage(600, LogLevel.Error, "Who read what could not be written to people.db.")]
    public static partial void NotKept(this ILogger log, Exception failed);
}
