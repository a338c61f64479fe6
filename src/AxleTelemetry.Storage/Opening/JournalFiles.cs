namespace AxleTelemetry.Storage.Opening;

/// <summary>The files of one shard's journal.</summary>
internal sealed record JournalFiles(string Directory, string Shard)
{
    private const int LongestName = 64;

    public string Database => Path.Combine(Directory, Shard + ".db");

    public string Log => Database + "-wal";

    public string Lock => Path.Combine(Directory, Shard + ".lock");

    /// <summary>Who holds the lock, in words: a locked file cannot be read by others.</summary>
    public string Owner => Path.Combine(Directory, Shard + ".owner");

    public string Reserve => Path.Combine(Directory, Shard + ".reserve");

    public static JournalFiles Of(string directory, string shard)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(directory);
        ArgumentException.ThrowIfNullOrWhiteSpace(shard);
        if (shard.Length > LongestName || shard[0] == '.' || !shard.All(c => char.IsAsciiLetterOrDigit(c) || c is '.' or '_' or '-'))
        {
            throw new ArgumentException("A shard's name is 1 to 64 of A-Z a-z 0-9 . _ - and does not begin with a dot.", nameof(shard));
        }

        return new JournalFiles(Path.GetFullPath(directory), shard);
    }
}
