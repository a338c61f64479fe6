using System.Security.Cryptography;

namespace AxleTelemetry.Service.Backups;

/// <summary>Files and directories that their owner alone may read: a backup holds positions, names and what passwords were made into.</summary>
internal static class PrivateFiles
{
    private const UnixFileMode Own = UnixFileMode.UserRead | UnixFileMode.UserWrite;

    public static void MakeDirectory(string path)
    {
        if (OperatingSystem.IsWindows()) Directory.CreateDirectory(path);
        else Directory.CreateDirectory(path, Own | UnixFileMode.UserExecute);
    }

    /// <summary>Writes a file and the directories above it; the disk has it on return.</summary>
    public static void Write(string path, ReadOnlySpan<byte> bytes)
    {
        using var file = Made(path);
        file.Write(bytes);
        file.Flush(flushToDisk: true);
    }

    /// <summary>Copies a file; the disk has it on return.</summary>
    public static void Copy(string from, string to)
    {
        using var source = File.OpenRead(from);
        using var file = Made(to);
        source.CopyTo(file);
        file.Flush(flushToDisk: true);
    }

    /// <summary>An empty file, for a writer that would make one which others can read.</summary>
    public static void Make(string path) => Made(path).Dispose();

    public static string Sha256(string path)
    {
        using var file = File.OpenRead(path);
        return Convert.ToHexStringLower(SHA256.HashData(file));
    }

    private static FileStream Made(string path)
    {
        MakeDirectory(Path.GetDirectoryName(path)!);
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows()) options.UnixCreateMode = Own;
        return new FileStream(path, options);
    }
}
