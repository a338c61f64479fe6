using System.Globalization;
using AxleTelemetry.Service.Backups;

namespace AxleTelemetry.Service.Commands;

/// <summary>What stands in a backup, for a person; a journal's line begins as that of <c>digest</c> does.</summary>
internal static class BackupWords
{
    public static void Write(BackupList list, TextWriter output)
    {
        foreach (var journal in list.Journals) output.WriteLine(FormattableString.Invariant($"{journal.Shard} {journal.Digest} at batch {journal.Batch}"));
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{list.Files.Length} files, {list.Files.Sum(f => f.Bytes)} bytes, taken {list.Taken:yyyy-MM-dd'T'HH:mm:ss'Z'}."));
    }
}
