using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Inspecting;

/// <summary>A message that was refused, in whole or in part.</summary>
internal sealed record RefusalDocument
{
    public required string Fleet { get; init; }

    public required string Vehicle { get; init; }

    /// <summary>Its place in the journal: <c>batch.row</c>.</summary>
    public required string Position { get; init; }

    public required Moment ReceivedAt { get; init; }

    /// <summary>Its first reason, for programs.</summary>
    public required string Reason { get; init; }

    /// <summary>The same for people.</summary>
    public required string Words { get; init; }

    /// <summary>Its topic; absent where the row cannot be read any more.</summary>
    public string? Topic { get; init; }

    /// <summary>Everything that was wrong with it, as far as it was kept in words.</summary>
    public required ImmutableArray<WrongDocument> Wrong { get; init; }

    /// <summary>The payload as it came; absent where the row cannot be read any more.</summary>
    public string? Base64 { get; init; }

    public static RefusalDocument Of(KeptRefusal kept)
    {
        var read = RefusedBytes.Read(kept.Row.Bytes.AsSpan());
        return new RefusalDocument
        {
            Fleet = kept.Row.Vehicle.Fleet,
            Vehicle = kept.Row.Vehicle.Vehicle,
            Position = RawMessage.PositionText(kept.Position),
            ReceivedAt = kept.Row.Received,
            Reason = RefusalReasons.Code(kept.Row.Reason),
            Words = RefusalReasons.Words(kept.Row.Reason),
            Topic = read?.Topic,
            Wrong = [.. (read?.Refusals ?? []).Select(r => new WrongDocument(JsonText.Word(r.Reason), RefusalWords.Of(r.Reason), r.Field, r.Excerpt, r.Right))],
            Base64 = read is null ? null : Convert.ToBase64String(read.Payload.AsSpan()),
        };
    }
}

/// <summary>One thing that was wrong.</summary>
/// <param name="Reason">For programs.</param>
/// <param name="Words">For people.</param>
/// <param name="Field">Where.</param>
/// <param name="Excerpt">What stood there, its beginning.</param>
/// <param name="Right">What would be right.</param>
internal sealed record WrongDocument(string Reason, string Words, string Field, string Excerpt, string Right);

/// <summary>A page of refusals, newest first.</summary>
/// <param name="Refusals">Those of this page.</param>
/// <param name="Next">For 'after' of the next page; absent on the last one.</param>
/// <param name="Tallies">Of every vehicle that fits and has refusals, how many are kept and how many older ones were dropped for room.</param>
internal sealed record RefusalList(ImmutableArray<RefusalDocument> Refusals, string? Next, ImmutableArray<TallyDocument> Tallies);

/// <summary>How many refusals of a vehicle are kept and dropped.</summary>
internal sealed record TallyDocument(string Fleet, string Vehicle, long Kept, long Dropped);
