namespace AxleTelemetry.Storage.Reading;

/// <summary>What came of opening a journal to read in it, as may be done while another process writes.</summary>
public abstract record ReaderOpening
{
    private ReaderOpening()
    {
    }

    /// <summary>Open.</summary>
    public sealed record Opened(JournalReader Reader) : ReaderOpening;

    /// <summary>There is no journal.</summary>
    public sealed record Absent(string Path) : ReaderOpening;

    /// <summary>The file is damaged or no journal of this shard.</summary>
    public sealed record Corrupt(string Path, string Why) : ReaderOpening;

    /// <summary>Another version of the program wrote it; an older file is brought up by opening it once for writing.</summary>
    public sealed record OtherVersion(string Path, long Version, int Known) : ReaderOpening;

    /// <summary>The files may not be read.</summary>
    public sealed record NotReadable(string Path, string Why) : ReaderOpening;
}
