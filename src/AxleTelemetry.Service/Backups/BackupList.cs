using System.Collections.Immutable;
using System.Text.Json;
using AxleTelemetry.Service.Serving;

namespace AxleTelemetry.Service.Backups;

/// <summary>What a backup holds: stands in it as <c>backup.json</c>, written last.</summary>
/// <param name="Format">1.</param>
/// <param name="Taken">When it was begun.</param>
/// <param name="Journals">Of each journal in it, up to which batch it goes and the digest of its history.</param>
/// <param name="Files">Every file in it.</param>
internal sealed record BackupList(int Format, DateTimeOffset Taken, ImmutableArray<KeptJournal> Journals, ImmutableArray<KeptFile> Files)
{
    /// <summary>Name of the list within the backup.</summary>
    public const string Name = "backup.json";

    /// <summary>Directory of what goes into a data directory.</summary>
    public const string Data = "data";

    /// <summary>Directory of settings and what they name.</summary>
    public const string Configuration = "configuration";

    /// <summary>The layout this release writes and reads.</summary>
    public const int Known = 1;

    private static readonly JsonSerializerOptions Layout = new(JsonText.Options) { WriteIndented = true, RespectRequiredConstructorParameters = true, RespectNullableAnnotations = true };

    /// <summary>As it stands in the backup.</summary>
    public byte[] ToBytes() => JsonSerializer.SerializeToUtf8Bytes(this, Layout);

    /// <summary>The list of a backup; <c>null</c> for bytes that are none.</summary>
    public static BackupList? Parse(ReadOnlySpan<byte> bytes)
    {
        try
        {
            return JsonSerializer.Deserialize<BackupList>(bytes, Layout);
        }
        catch (JsonException)
        {
            return null;
        }
    }
}

/// <summary>A file of a backup.</summary>
/// <param name="Name">Its path within the backup, with /.</param>
/// <param name="Bytes">How long it is.</param>
/// <param name="Sha256">What is in it, in lower-case hexadecimal.</param>
internal sealed record KeptFile(string Name, long Bytes, string Sha256);

/// <summary>A journal of a backup.</summary>
/// <param name="Shard">Its shard.</param>
/// <param name="Batch">Number of the last batch in it.</param>
/// <param name="Digest">SHA-256 over its history in force.</param>
internal sealed record KeptJournal(string Shard, long Batch, string Digest);
