using AxleTelemetry.Storage.Reading;
using Microsoft.Data.Sqlite;

namespace AxleTelemetry.Service.Commands;

/// <summary>Why a journal cannot be read, for a person.</summary>
internal static class ReaderWords
{
    private const int Corrupt = 11, NotADatabase = 26;

    public static string WhyNot(ReaderOpening opening, string shard) => opening switch
    {
        ReaderOpening.Absent absent => $"Shard '{shard}' has no journal yet at {absent.Path}. 'axletelemetry serve' makes it.",
        ReaderOpening.Corrupt corrupt => $"The journal {corrupt.Path} is damaged: {corrupt.Why.TrimEnd('.')}. Nothing was changed.",
        ReaderOpening.OtherVersion other => FormattableString.Invariant($"The journal {other.Path} has version {other.Version}, this release reads {other.Known}. 'axletelemetry serve' brings an older one up to date."),
        ReaderOpening.NotReadable closed => $"{closed.Path} cannot be read: {closed.Why}",
        _ => throw new ArgumentOutOfRangeException(nameof(opening), opening, "An outcome of opening that nobody handles."),
    };

    /// <summary>Damage may be met only on the way: an opening looks at the beginning of a journal alone.</summary>
    public static string WhyNot(SqliteException broken, string directory, string shard) => broken.SqliteErrorCode is Corrupt or NotADatabase
        ? $"The journal of shard '{shard}' in {directory} is damaged: {broken.Message.TrimEnd('.')}. Nothing was changed. What was written before this line is not all of it."
        : $"The journal of shard '{shard}' in {directory} cannot be read: {broken.Message.TrimEnd('.')}. What was written before this line is not all of it.";
}
