using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Telling;

namespace AxleTelemetry.Service.Delivering;

/// <summary>A change of an alert as the journal keeps it, with what routes ask of it.</summary>
/// <param name="Message">What it is known by outside.</param>
/// <param name="Document">The change.</param>
/// <param name="Bytes">The change as the journal keeps it.</param>
internal sealed record ToldChange(string Message, AlertChangeDocument Document, ImmutableArray<byte> Bytes)
{
    /// <summary>The kind of finding; <c>null</c> for a vehicle that is not heard.</summary>
    public FindingKind? Kind { get; private init; }

    /// <summary>How soon somebody should act.</summary>
    public AlertPriority Priority { get; private init; }

    /// <summary>How sure it is.</summary>
    public Level Level { get; private init; }

    /// <summary>True where nothing is left to be done about the alert.</summary>
    public bool IsOver => Document.State.Code == "normal";

    /// <summary>True while it holds and nobody has taken notice.</summary>
    public bool WaitsForNotice => Document.State.Code == "unacknowledged";

    /// <summary>True where it tells of nothing but whom the alert reached, or did not.</summary>
    public bool IsOfContact => Document.Contact is not null;

    /// <summary>True where somebody put it back that was put aside.</summary>
    public bool IsPutBack => Document.Cause is "unshelve" or "put_back";

    /// <summary>The change; <c>null</c> for bytes that are none.</summary>
    public static ToldChange? Read(string shard, ImmutableArray<byte> bytes)
    {
        if (AlertChangeJson.Read(bytes.AsSpan()) is not { } document) return null;
        return new ToldChange(MessageId.OfChange(shard, document.Id, document.Number), document, bytes)
        {
            Kind = Enum.TryParse<FindingKind>(document.Subject.Split(':')[0], out var kind) ? kind : null,
            Priority = Word<AlertPriority>(document.Priority),
            Level = Word<Level>(document.Level),
        };
    }

    private static T Word<T>(string word) where T : struct, Enum => Enum.GetValues<T>().FirstOrDefault(v => JsonText.Word(v) == word);
}
