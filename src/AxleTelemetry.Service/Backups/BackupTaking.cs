using System.Collections.Immutable;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Storage.Copying;
using Microsoft.Data.Sqlite;

namespace AxleTelemetry.Service.Backups;

/// <summary>
/// Takes a backup beside a service that runs or does not: every database of the data directory as it stands at one moment, whatever it is for, the keys that cookies are
/// sealed with, the settings and what they name. Each database is whole in itself; they are taken one after the other.
/// </summary>
internal sealed class BackupTaking(string settings, ServiceConfiguration configuration)
{
    private const string Databases = "*.db", Keys = "people-keys";

    /// <summary>Takes it into a directory that is not there yet; one that is there is whole.</summary>
    /// <exception cref="BackupFault">It cannot be taken, and why. Nothing is left behind.</exception>
    public BackupList Into(string directory, DateTimeOffset now)
    {
        var full = Path.TrimEndingDirectorySeparator(Path.GetFullPath(directory));
        if (Path.Exists(full)) throw new BackupFault($"{full} is there already, and no backup is written over. Name a directory that is not there.");
        if (!Directory.Exists(configuration.DataDirectory) || Directory.GetFiles(configuration.DataDirectory, Databases) is not { Length: > 0 } databases)
            throw new BackupFault($"There is no journal in {configuration.DataDirectory}. 'axletelemetry serve' makes it.");
        var unfinished = full + ".unfinished";
        try
        {
            if (Directory.Exists(unfinished)) Directory.Delete(unfinished, recursive: true);
            PrivateFiles.MakeDirectory(unfinished);
            var list = Fill(unfinished, databases, now);
            PrivateFiles.Write(Path.Combine(unfinished, BackupList.Name), list.ToBytes());
            Directory.Move(unfinished, full);
            return list;
        }
        catch (Exception failed) when (failed is IOException or UnauthorizedAccessException or SqliteException or BackupFault)
        {
            if (Directory.Exists(unfinished)) Directory.Delete(unfinished, recursive: true);
            throw failed as BackupFault ?? new BackupFault($"No backup was taken: {failed.Message}");
        }
    }

    private BackupList Fill(string into, string[] databases, DateTimeOffset now)
    {
        var data = Path.Combine(into, BackupList.Data);
        ImmutableArray<KeptJournal> journals = [.. databases.OrderBy(IsJournal).ThenBy(d => d, StringComparer.Ordinal).Select(d => Database(d, Path.Combine(data, Path.GetFileName(d)))).OfType<KeptJournal>()];
        var keys = Path.Combine(configuration.DataDirectory, Keys);
        foreach (var key in Directory.Exists(keys) ? Directory.GetFiles(keys) : []) PrivateFiles.Copy(key, Path.Combine(data, Keys, Path.GetFileName(key)));
        foreach (var (name, bytes) in new ConfigurationFiles(settings, configuration).All()) PrivateFiles.Write(Path.Combine(into, BackupList.Configuration, name), bytes.Span);
        return new(BackupList.Known, now, journals, [.. Directory.GetFiles(into, "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal)
            .Select(f => new KeptFile(Path.GetRelativePath(into, f).Replace('\\', '/'), new FileInfo(f).Length, PrivateFiles.Sha256(f)))]);
    }

    // Last: what follows a journal by a database of its own is then at most behind it in the backup, and does again what it has done; never ahead, and leaves something out.
    private bool IsJournal(string database) => configuration.Settings.Shards.Any(s => s.Name == Path.GetFileNameWithoutExtension(database));

    private static KeptJournal? Database(string from, string to)
    {
        PrivateFiles.Make(to);
        DatabaseCopy.Take(from, to);
        return DatabaseCopy.Look(to) switch
        {
            DatabaseStanding.OfShard journal => new KeptJournal(journal.Shard, journal.Batch, journal.Digest),
            DatabaseStanding.Sound => null,
            DatabaseStanding.OtherVersion other => throw new BackupFault(FormattableString.Invariant($"{from} has version {other.Version}, this release reads {other.Known}. Take the backup with the release that wrote it.")),
            DatabaseStanding.Damaged damaged => throw new BackupFault($"{from} is damaged, and a backup of it would be: {damaged.Why}"),
            var other => throw new InvalidOperationException($"No case for {other.GetType().Name}."),
        };
    }
}

/// <summary>A backup cannot be taken or restored, and why.</summary>
internal sealed class BackupFault(string why) : Exception(why);
