namespace AxleTelemetry.Storage.Writing;

/// <summary>A file of real bytes beside the journal: room that is certain to be there when the disk is full.</summary>
internal sealed class Reserve(string path, long size)
{
    private const int ChunkBytes = 1 << 20;

    /// <summary>Whether the room is set aside. Without a reserve it counts as set aside.</summary>
    public bool IsThere { get; private set; }

    /// <summary>Sets the room aside if it is not yet and the disk has half as much again.</summary>
    public bool TryPut()
    {
        if (IsThere || size == 0) return IsThere = true;
        try
        {
            if (new FileInfo(path) is { Exists: true } file && file.Length == size) return IsThere = true;
            if (Failures.FreeBytes(path) < size + (size / 2)) return false;
            Write();
            return IsThere = true;
        }
        catch (IOException)
        {
            // The disk filled meanwhile; half a reserve is none.
            File.Delete(path);
            return false;
        }
    }

    public void GiveUp()
    {
        if (size == 0) return;
        IsThere = false;
        File.Delete(path);
    }

    private void Write()
    {
        // Noise, since a file of zeros takes no room on some file systems.
        var chunk = new byte[Math.Min(size, ChunkBytes)];
        new Random(1).NextBytes(chunk);
        using var file = new FileStream(path, FileMode.Create, FileAccess.Write, FileShare.None, bufferSize: 0);
        for (var left = size; left > 0; left -= chunk.Length) file.Write(chunk, 0, (int)Math.Min(left, chunk.Length));
        file.Flush(flushToDisk: true);
    }
}
