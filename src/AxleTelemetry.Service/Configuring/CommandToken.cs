using System.Buffers.Text;
using System.Security.Cryptography;

namespace AxleTelemetry.Service.Configuring;

/// <summary>
/// How commands on this machine ask a service that runs: by a token that the service writes into the data directory at its start. Whoever may read
/// that file may read and write the journal as well, so it gives nothing away.
/// </summary>
internal static class CommandToken
{
    private const string Name = "command-token";
    private const int Bytes = 32;

    /// <summary>Makes a new one, for the user of the service only; <c>null</c> where the disk does not take it: then no command can ask, and all else goes on.</summary>
    public static Secret? Write(string dataDirectory)
    {
        try
        {
            return Made(dataDirectory);
        }
        catch (IOException)
        {
            return null;
        }
    }

    private static Secret Made(string dataDirectory)
    {
        var token = Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(Bytes));
        Directory.CreateDirectory(dataDirectory);
        var path = Path.Combine(dataDirectory, Name);
        // An old file keeps its mode when it is written over.
        File.Delete(path);
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows()) options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        using var file = new StreamWriter(path, options);
        file.Write(token);
        return new Secret(token);
    }

    /// <summary>The token of a service that runs; <c>null</c> where this user cannot read one.</summary>
    public static Secret? Read(string dataDirectory)
    {
        try
        {
            return new Secret(File.ReadAllText(Path.Combine(dataDirectory, Name)).Trim());
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }
}
