using System.Collections.Immutable;

namespace AxleTelemetry.Service.Configuring;

/// <summary>How a file looks from outside; length -1 and no time where there is none.</summary>
internal readonly record struct FileStamp(string Path, long Length, DateTime Modified);

/// <summary>Stamps of files, and of the vehicle files in directories.</summary>
internal static class FileStamps
{
    /// <summary>The vehicle files of a directory in ordinal order.</summary>
    public static IEnumerable<string> VehicleFiles(string directory) => Directory.EnumerateFiles(directory, "*.json").Order(StringComparer.Ordinal);

    /// <summary>Stamps in a fixed order. Never throws for what is missing or may not be looked at.</summary>
    public static ImmutableArray<FileStamp> Of(IEnumerable<string> paths) => [.. paths.SelectMany(Of)];

    private static IEnumerable<FileStamp> Of(string path)
    {
        try
        {
            return Directory.Exists(path) ? [.. VehicleFiles(path).Select(Stamp)] : [Stamp(path)];
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException or ArgumentException)
        {
            // Reading will say why, with the place in the settings; from outside it looks like a file that is not there.
            return [new(path, -1, default)];
        }
    }

    private static FileStamp Stamp(string path)
    {
        var file = new FileInfo(path);
        return file.Exists ? new(path, file.Length, file.LastWriteTimeUtc) : new(path, -1, default);
    }
}
