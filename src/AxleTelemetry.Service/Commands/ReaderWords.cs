using AxleTelemetry.Storage.Reading;

namespace AxleTelemetry.Service.Commands;

/// <summary>Why a journal cannot be read, for a person.</summary>
internal static class ReaderWords
{
    public static string WhyNot(ReaderOpening opening, string shard) => opening switch
    {
        ReaderOpening.Absent absent => $"Shard '{shard}' has no journal yet at {absent.Path}. 'axletelemetry serve' makes it.",
        ReaderOpening.Corrupt corrupt => $"The journal {corrupt.Path} is damaged: {corrupt.Why.TrimEnd('.')}. Nothing was changed.",
        ReaderOpening.OtherVersion other => FormattableString.Invariant($"The journal {other.Path} has version {other.Version}, this release reads {other.Known}. 'axletelemetry serve' brings an older one up to date."),
        ReaderOpening.NotReadable closed => $"{closed.Path} cannot be read: {closed.Why}",
        _ => throw new ArgumentOutOfRangeException(nameof(opening), opening, "An outcome of opening that nobody handles."),
    };
}
