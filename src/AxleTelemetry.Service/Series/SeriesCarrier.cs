using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Service.Drives;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Series;
using HistoryRow = AxleTelemetry.Domain.Histories.HistoryRow;
using Position = AxleTelemetry.Storage.Rows.Position;

namespace AxleTelemetry.Service.Series;

/// <summary>
/// Carries a shard's history to the series, behind a cursor in the journal: the cursor moves when a page is there, so after a crash a page is carried again and
/// changes nothing. Days away cost the time to catch up. Nothing here holds up the shard.
/// </summary>
internal sealed class SeriesCarrier(ShardDesk desk, SeriesDelivery delivery, TimeProvider clock)
{
    /// <summary>Name of its cursor.</summary>
    public const string Cursor = "series";

    private const int Rows = 500, Points = 5_000;

    private readonly Following _following = new(clock);
    private readonly RowShelf _shelf = RowShelf.Of(desk);
    private long _behind, _missed, _untold;
    private Position _moved = Position.Start, _claimed = Position.Start;

    /// <summary>How it is.</summary>
    public SeriesState State => new(delivery.Written, delivery.Refused, Interlocked.Read(ref _missed), Interlocked.Read(ref _untold), Interlocked.Read(ref _behind), delivery.Trouble ?? _following.Trouble);

    /// <summary>Carries until it is told to stop.</summary>
    public async Task RunAsync(CancellationToken cancel)
    {
        Position? at = null;
        await _following.RunAsync(async token => at = await StepAsync(at ?? Start(), token), cancel);
    }

    private Position Start()
    {
        switch (desk.Read(r => r.Cursor(Cursor)))
        {
            case CursorState.Unknown:
                return Position.Start;
            case CursorState.At at:
                _missed = at.MissedInAll;
                return at.Position;
            case CursorState.FellBehind behind:
                _missed = behind.MissedInAll;
                return behind.Position;
            default:
                throw new InvalidOperationException("A state of a cursor that nobody handles.");
        }
    }

    private async Task<Position> StepAsync(Position at, CancellationToken cancel)
    {
        var head = desk.Committed;
        // From here on a page may stand outside and nobody knows: rows that change meanwhile keep what it says of them.
        if (head > _claimed && at >= _claimed)
        {
            await desk.ClaimAsync(Cursor, head, at > _moved ? at : null, cancel);
            (_claimed, _moved) = (head, at > _moved ? at : _moved);
        }

        ImmutableArray<OutputChange> page = [.. desk.Read(r => r.Changes(at, Rows)).Where(c => c.Position <= _claimed)];
        Interlocked.Exchange(ref _behind, Math.Max(0, head.Batch - (page.Length > 0 ? page[^1].Position.Batch : head.Batch)));
        foreach (var chunk in (await PointsAsync(page, cancel)).Chunk(Points)) await delivery.DeliverAsync([.. chunk], cancel);
        if (page.Length > 0) at = page[^1].Position;
        var isAll = page.Length < Rows;
        if (isAll && _claimed > at) at = _claimed;
        // Where more is there already, the claim of it says how far this came: a commit of the shard's thread less.
        if (at > _moved && (at < _claimed || desk.Committed <= at))
        {
            await desk.AdvanceAsync(Cursor, at, cancel);
            _moved = at;
        }

        if (isAll) await desk.UntilAfterAsync(at, cancel);
        return at;
    }

    /// <summary>What follows from a page, each point once: of two writings the later holds.</summary>
    private async Task<IEnumerable<SeriesPoint>> PointsAsync(ImmutableArray<OutputChange> page, CancellationToken cancel)
    {
        var points = new Dictionary<PointIdentity, SeriesPoint>();
        foreach (var change in page.OfType<OutputChange.History>())
        {
            var now = change.Row is Storage.Rows.HistoryRow.Put put ? await OfAsync(put.Bytes, cancel) : [];
            foreach (var carried in change.Carried)
                foreach (var former in await OfAsync(carried, cancel))
                    if (now.All(p => !p.Identity.Equals(former.Identity)))
                        Put(former with { Fields = [(SeriesSchema.Void, new FieldValue.Flag(true))] });
            foreach (var point in now) Put(point);
        }

        return points.Values;

        // A point that is taken back and written again within a page: what is later in the log is last, whole.
        void Put(SeriesPoint point) => points[point.Identity] = point;
    }

    private async ValueTask<ImmutableArray<SeriesPoint>> OfAsync(ImmutableArray<byte> bytes, CancellationToken cancel)
    {
        if (bytes.IsEmpty) return [];
        if (HistoryReading.Row(bytes.AsSpan()) is not { } row || await _shelf.OfAsync(row.Members, cancel) is not { } points)
        {
            Interlocked.Increment(ref _untold);
            return [];
        }

        return [.. points.Of(row)];
    }
}

/// <summary>How carrying is.</summary>
/// <param name="Written">Points that are there since the start.</param>
/// <param name="Refused">Points left out since then, by what the database said.</param>
/// <param name="Missed">Changes that retention took before they were carried, ever.</param>
/// <param name="Untold">Rows since the start whose vehicles cannot be told any more.</param>
/// <param name="Behind">Batches that are committed and not carried yet.</param>
/// <param name="Trouble">Why nothing gets through at present; <c>null</c> where it does.</param>
internal sealed record SeriesState(long Written, ImmutableSortedDictionary<string, long> Refused, long Missed, long Untold, long Behind, string? Trouble);
