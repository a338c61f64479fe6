using AxleTelemetry.Storage.Copying;
using Microsoft.Data.Sqlite;

namespace AxleTelemetry.Service.Backups;

/// <summary>Makes a data directory of a backup: every file is held against the backup's list, every database read whole, every history against its digest.</summary>
internal sealed class BackupRestoring(string backup)
{
    private static readonly string Prefix = BackupList.Data + "/";

    /// <summary>Restores into a data directory that is not there yet, or empty.</summary>
    /// <exception cref="BackupFault">It cannot be restored, and why. Nothing is left behind.</exception>
    public BackupList Into(string directory)
    {
        var full = Path.TrimEndingDirectorySeparator(Path.GetFullPath(directory));
        if (File.Exists(full) || Directory.Exists(full) && Directory.EnumerateFileSystemEntries(full).Any())
            throw new BackupFault($"{full} is not empty, and nothing is written over. Stop the service, move what is there aside, and restore again.");
        var list = Listed();
        // One that is not there appears whole. One that is may be a mount, which nothing can be moved to from beside it.
        var isThere = Directory.Exists(full);
        var unfinished = isThere ? Path.Combine(full, "restore.unfinished") : full + ".unfinished";
        try
        {
            if (Directory.Exists(unfinished)) Directory.Delete(unfinished, recursive: true);
            PrivateFiles.MakeDirectory(unfinished);
            foreach (var file in list.Files.Where(f => f.Name.StartsWith(Prefix, StringComparison.Ordinal))) Restore(file, Path.Combine(unfinished, file.Name[Prefix.Length..]));
            foreach (var database in Directory.GetFiles(unfinished, "*.db")) Check(list, database);
            if (isThere) MoveUp(unfinished, full);
            else Directory.Move(unfinished, full);
            return list;
        }
        catch (Exception failed) when (failed is IOException or UnauthorizedAccessException or SqliteException or BackupFault)
        {
            if (Directory.Exists(unfinished)) Directory.Delete(unfinished, recursive: true);
            throw failed as BackupFault ?? new BackupFault($"Nothing was restored: {failed.Message}");
        }
    }

    private BackupList Listed()
    {
        var path = Path.Combine(backup, BackupList.Name);
        if (!File.Exists(path)) throw new BackupFault($"'{backup}' is no backup: it has no {BackupList.Name}. A backup that was taken whole has one.");
        if (BackupList.Parse(File.ReadAllBytes(path)) is not { } list) throw new BackupFault($"{path} is damaged.");
        if (list.Format != BackupList.Known) throw new BackupFault(FormattableString.Invariant($"{path} has format {list.Format}, this release reads {BackupList.Known}. Use the release that took it, or a later one."));
        if (list.Files.FirstOrDefault(f => Path.IsPathRooted(f.Name) || f.Name.Split('/').Any(part => part is "" or "." or "..")) is { } outside) throw new BackupFault($"{path} names '{outside.Name}', which lies outside the backup.");
        return list;
    }

    private void Restore(KeptFile file, string to)
    {
        var from = Path.Combine(backup, file.Name);
        if (!File.Exists(from)) throw new BackupFault($"{from} is missing, though {BackupList.Name} lists it.");
        PrivateFiles.Copy(from, to);
        // What arrived is held against the list, not what was sent.
        if (new FileInfo(to).Length != file.Bytes || PrivateFiles.Sha256(to) != file.Sha256) throw new BackupFault($"{from} is not what was taken: its SHA-256 differs from that in {BackupList.Name}.");
    }

    private static void Check(BackupList list, string database)
    {
        var name = Path.GetFileName(database);
        switch (DatabaseCopy.Look(database))
        {
            case DatabaseStanding.OfShard found when list.Journals.FirstOrDefault(j => j.Shard == found.Shard) is var kept:
                if (kept != new KeptJournal(found.Shard, found.Batch, found.Digest)) throw new BackupFault(FormattableString.Invariant($"{name} ends at batch {found.Batch} with digest {found.Digest}, which is not what {BackupList.Name} says."));
                break;
            case DatabaseStanding.Sound:
                break;
            case DatabaseStanding.OtherVersion other:
                throw new BackupFault(FormattableString.Invariant($"{name} has version {other.Version}, this release reads {other.Known}. Restore it with the release that took it, and upgrade then."));
            case DatabaseStanding.Damaged damaged:
                throw new BackupFault($"{name} is damaged: {damaged.Why}");
            case var other:
                throw new InvalidOperationException($"No case for {other.GetType().Name}.");
        }
    }

    private static void MoveUp(string unfinished, string full)
    {
        foreach (var directory in Directory.GetDirectories(unfinished)) Directory.Move(directory, Path.Combine(full, Path.GetFileName(directory)));
        foreach (var file in Directory.GetFiles(unfinished)) File.Move(file, Path.Combine(full, Path.GetFileName(file)));
        Directory.Delete(unfinished);
    }
}
