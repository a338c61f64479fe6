using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Storage;
using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Sharding;

/// <summary>What came of opening a shard.</summary>
internal abstract record ShardOpening
{
    private ShardOpening() { }

    /// <summary>It goes on from its last batch.</summary>
    public sealed record Opened(Shard Shard, JournalStore Store) : ShardOpening;

    /// <summary>It does not, and what is to be done about it. Nothing was written.</summary>
    public sealed record Failed(string Why) : ShardOpening;

    /// <summary>Another process has its journal open.</summary>
    public sealed record InUse(string Why) : ShardOpening;

    /// <summary>Opens the shard of a journal and restores what it knew.</summary>
    public static ShardOpening Open(string directory, string name, JournalOptions journal, ShardOptions options) => Journal.Open(directory, name, journal) switch
    {
        JournalOpening.Opened opened => Restore(opened.Journal, options),
        JournalOpening.InUse used => new InUse($"The journal of shard '{name}' in {directory} is in use by {used.Owner}. Stop that one first: a journal has one owner."),
        JournalOpening.Corrupt corrupt => new Failed($"The journal {corrupt.Path} is damaged: {corrupt.Why.TrimEnd('.')}. Nothing was changed. Restore it from a backup, or move it away to begin anew."),
        JournalOpening.TooNew newer => new Failed(FormattableString.Invariant($"The journal {newer.Path} was written by a newer release (version {newer.Version}, this one knows {newer.Known}). Nothing was changed.")),
        JournalOpening.NotWritable closed => new Failed($"{closed.Path} cannot be written: {closed.Why}"),
        var other => throw new InvalidOperationException($"An outcome of opening that nobody handles: {other}"),
    };

    private static ShardOpening Restore(Journal journal, ShardOptions options)
    {
        var store = new JournalStore(journal);
        try
        {
            var state = new ShardState(store, options);
            using var reader = journal.Reader();
            var last = reader.LastBatch();
            Restoration.Restore(reader, state, last);
            return new Opened(Shard.Restored(store, state, last), store);
        }
        catch (InvalidDataException unreadable)
        {
            store.Dispose();
            return new Failed(unreadable.Message);
        }
    }
}
