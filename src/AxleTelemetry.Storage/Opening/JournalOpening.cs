namespace AxleTelemetry.Storage.Opening;

/// <summary>What came of opening a journal to write in it.</summary>
public abstract record JournalOpening
{
    private JournalOpening()
    {
    }

    /// <summary>Open, and owned by this process alone.</summary>
    public sealed record Opened(Journal Journal) : JournalOpening;

    /// <summary>Another process, or another part of this one, has it open.</summary>
    /// <param name="Owner">Which: process id, machine and since when, as it wrote them itself.</param>
    public sealed record InUse(string Owner) : JournalOpening;

    /// <summary>The file is damaged or no journal of this shard. Nothing was written.</summary>
    public sealed record Corrupt(string Path, string Why) : JournalOpening;

    /// <summary>A newer program wrote it. Nothing was written.</summary>
    public sealed record TooNew(string Path, long Version, int Known) : JournalOpening;

    /// <summary>The directory or a file in it cannot be written.</summary>
    public sealed record NotWritable(string Path, string Why) : JournalOpening;
}
