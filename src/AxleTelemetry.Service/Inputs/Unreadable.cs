namespace AxleTelemetry.Service.Inputs;

/// <summary>Why a file cannot be read, in the same words for every command.</summary>
internal static class Unreadable
{
    /// <summary>One sentence.</summary>
    public static string Words(string file, Exception why) => why switch
    {
        // The system calls it missing or denied, and a person then looks for the wrong thing.
        _ when Directory.Exists(file) => "This is a directory. Name a file in it.",
        FileNotFoundException or DirectoryNotFoundException => "There is no such file.",
        _ => $"The file cannot be read. {why.Message}",
    };
}
