using System.Security.Cryptography;
using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Serving;

/// <summary>
/// The token of programs on this machine, where the settings name none: a file beside the journals that only their owner may read. Whoever can
/// read the journals needs no more.
/// </summary>
internal static class MachineToken
{
    private const string Name = "program.token";
    private const int Bytes = 32;

    /// <summary>The token of a data directory, made where there is none yet.</summary>
    public static Secret Of(string dataDirectory)
    {
        if (Find(dataDirectory) is { } known) return known;
        Directory.CreateDirectory(dataDirectory);
        var token = Convert.ToHexString(RandomNumberGenerator.GetBytes(Bytes)).ToLowerInvariant();
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows()) options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        using var file = new StreamWriter(Path.Combine(dataDirectory, Name), options);
        file.Write(token);
        return new Secret(token);
    }

    /// <summary>The token of a data directory; <c>null</c> where there is none.</summary>
    public static Secret? Find(string dataDirectory)
    {
        var path = Path.Combine(dataDirectory, Name);
        return File.Exists(path) && File.ReadAllText(path).Trim() is { Length: > 0 } token ? new Secret(token) : null;
    }
}
