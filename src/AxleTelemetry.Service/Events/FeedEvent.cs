using System.Buffers;
using System.Collections.Immutable;
using System.Text;
using System.Text.Json;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Drives;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using HistoryRow = AxleTelemetry.Domain.Histories.HistoryRow;
using RowKind = AxleTelemetry.Domain.Histories.RowKind;

namespace AxleTelemetry.Service.Events;

/// <summary>One thing that changed, as it is sent.</summary>
/// <param name="Shard">Where.</param>
/// <param name="Position">Its place there.</param>
/// <param name="Kind">The event's name: <c>alert</c>, <c>load</c>, <c>load_begun</c>, <c>episode</c>.</param>
/// <param name="Data">JSON on one line.</param>
internal sealed record FeedEvent(string Shard, Position Position, string Kind, ReadOnlyMemory<byte> Data)
{
    /// <summary>The event of a change; <c>null</c> for rows that this release cannot read, and for what only the lanes ask for.</summary>
    public static async ValueTask<FeedEvent?> OfAsync(ShardDesk desk, OutputChange change, CombinationShelf shelf, CancellationToken cancel)
    {
        switch (change)
        {
            case OutputChange.Told told:
                return new(desk.Name, told.Position, "alert", told.Row.Bytes.AsMemory());
            case OutputChange.History history when history.Row.Key.Kind == HistoryReading.KindOf(RowKind.Parted):
                return null;
            case OutputChange.History { Row: Storage.Rows.HistoryRow.Void gone } history:
                return new(desk.Name, history.Position, KindOf(gone.Key.Kind), Json(TakenBack.Of(gone.Key)));
            case OutputChange.History { Row: Storage.Rows.HistoryRow.Put put } history:
                if (HistoryReading.Row(put.Bytes.AsSpan()) is not { } row) return null;
                return new(desk.Name, history.Position, KindOf(put.Key.Kind), Json(Document(row, await shelf.OfAsync(desk, row.Members, cancel))));
            default:
                throw new ArgumentOutOfRangeException(nameof(change), change, "Unknown change.");
        }
    }

    private static object Document(HistoryRow row, Combination? combination) => row switch
    {
        HistoryRow.Load load => LoadEvent.Of(load, combination),
        HistoryRow.Episode episode => EpisodeDocument(episode, combination),
        HistoryRow.LoadBegun begun => new LoadBegunEvent(begun.Key.Unit.Fleet, begun.Key.Unit.Id, begun.Key.At, begun.Since, Interval.Of(begun.Payload)),
        HistoryRow.Account account => new AccountEvent(account.Key.Unit.Fleet, account.Key.Unit.Id, account.Key.At, account.Touched, Math.Round(account.Unit.Metres / 1000, 3)),
        _ => throw new ArgumentOutOfRangeException(nameof(row), row, "Unknown kind of row."),
    };

    private static Register.EpisodeDocument EpisodeDocument(HistoryRow.Episode episode, Combination? combination) => Register.EpisodeDocument.Of(episode, combination);

    private static string KindOf(Storage.Rows.RowKind kind) => JsonText.Word((RowKind)kind.Code);

    private static ReadOnlyMemory<byte> Json(object document) => JsonSerializer.SerializeToUtf8Bytes(document, document.GetType(), JsonText.Options);
}

/// <summary>Loads of a vehicle at a moment.</summary>
internal sealed record LoadEvent(
    string Fleet, string Vehicle, Moment At, string Standing, string Movement, string Lifts, Interval? GrossKg, ImmutableArray<AxleLoad> Axles, PositionDocument? Position)
{
    public static LoadEvent Of(HistoryRow.Load load, Combination? combination)
    {
        var names = new PartNames(combination);
        return new(
            load.Key.Unit.Fleet, load.Key.Unit.Id, load.Key.At, JsonText.Word(load.Standing), JsonText.Word(load.Movement),
            combination is null ? "" : new Domain.Wording.Sentences(combination).Lifts(load.Configuration),
            Interval.Of(load.Gross), [.. load.Axles.Select((a, i) => new AxleLoad(names.Axle(i), JsonText.Word(load.Configuration[i]), Interval.Of(a)))], PositionDocument.Of(load.Place));
    }
}

/// <summary>Load of an axle.</summary>
internal sealed record AxleLoad(string Name, string State, Interval? LoadKg);

/// <summary>A load that began.</summary>
internal sealed record LoadBegunEvent(string Fleet, string Vehicle, Moment At, Moment Since, Interval PayloadKg);

/// <summary>A row of history that a correction took back.</summary>
/// <param name="Fleet">Whose.</param>
/// <param name="Vehicle">Whose.</param>
/// <param name="At">Its moment.</param>
/// <param name="Finding">Of an episode: what was found.</param>
/// <param name="IsTakenBack">Always true.</param>
internal sealed record TakenBack(string Fleet, string Vehicle, Moment At, string? Finding, bool IsTakenBack)
{
    public static TakenBack Of(HistoryKey key) => new(key.Vehicle.Fleet, key.Vehicle.Vehicle, key.Time, key.Key.Length == 0 ? null : key.Key, true);
}

/// <summary>The running account of a unit went on.</summary>
/// <param name="Fleet">Its fleet.</param>
/// <param name="Vehicle">Its powered vehicle.</param>
/// <param name="Since">When the period began.</param>
/// <param name="To">Up to when it was added.</param>
/// <param name="Kilometres">Rolled in it.</param>
internal sealed record AccountEvent(string Fleet, string Vehicle, Moment Since, Moment To, double Kilometres);
