using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Service.Tests.Crashing;

/// <summary>A disk of a few mebibytes, in memory.</summary>
internal sealed class SmallDisk : IAsyncDisposable
{
    private readonly DirectoryInfo _place = Directory.CreateTempSubdirectory("axle-small-disk-");

    private SmallDisk()
    {
    }

    public string Path => _place.FullName;

    private string Other => System.IO.Path.Combine(Path, "other");

    /// <summary>Mounts one; skips the test where that is not permitted.</summary>
    public static async Task<SmallDisk> OfMebibytes(int size)
    {
        var disk = new SmallDisk();
        if (OperatingSystem.IsLinux() && await Run("mount", "-t", "tmpfs", "-o", FormattableString.Invariant($"size={size}m"), "tmpfs", disk.Path) == 0) return disk;
        disk._place.Delete();
        Assert.Skip("Mounting a small tmpfs is not permitted here.");
        return disk;
    }

    /// <summary>Fills what is left, to the last page, with a file of somebody else.</summary>
    public void Fill()
    {
        using var file = new FileStream(Other, FileMode.Create, FileAccess.Write, FileShare.None, bufferSize: 0);
        foreach (var length in (int[])[1 << 20, 1 << 12, 1])
        {
            try
            {
                while (true) file.Write(new byte[length]);
            }
            catch (IOException)
            {
                // No room for a piece of this length.
            }
        }
    }

    /// <summary>Takes that file away again.</summary>
    public void Clear() => File.Delete(Other);

    public async ValueTask DisposeAsync()
    {
        if (await Run("umount", Path) == 0) _place.Delete(recursive: true);
    }

    private static async Task<int> Run(string program, params string[] arguments)
    {
        await using var command = RunningProgram.Start(program, arguments);
        return await command.Exit();
    }
}
