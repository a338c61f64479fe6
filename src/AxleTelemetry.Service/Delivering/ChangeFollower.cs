using System.Collections.Immutable;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Delivering;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Delivering;

/// <summary>
/// Follows what a shard tells of alerts and enters who is to be told of it. What is entered and how far the journal was read are one transaction, so each change
/// is entered once, whatever happens between; nothing here waits for anybody outside.
/// </summary>
internal sealed class ChangeFollower(ShardDesk desk, DeliveryFile file, ChangeEntry entry, TimeProvider clock)
{
    private const int Rows = 200;
    private static readonly TimeSpan Again = TimeSpan.FromSeconds(1);

    private volatile string? _trouble;

    /// <summary>Why changes are not taken in at present; <c>null</c> where they are.</summary>
    public string? Trouble => _trouble;

    /// <summary>Notes where the journal is, before anything more is told: what was told before delivery was set up goes to nobody.</summary>
    public void Begin() => file.InOneStep(book =>
    {
        // A journal put back from a copy is behind: what it tells again has the ids it had before.
        if (book.PlaceOf(desk.Name) is not { } place || place > desk.Committed) book.Place(desk.Name, desk.Committed);
    });

    /// <summary>Follows until it is told to stop.</summary>
    public async Task RunAsync(CancellationToken cancel)
    {
        var at = Position.Start;
        while (!cancel.IsCancellationRequested)
        {
            try
            {
                if (at == Position.Start) at = file.InOneStep(book => book.PlaceOf(desk.Name)) ?? Position.Start;
                at = await StepAsync(at, cancel);
                _trouble = null;
            }
            catch (OperationCanceledException) when (cancel.IsCancellationRequested)
            {
                return;
            }
            catch (Exception failed) when (failed is not OutOfMemoryException)
            {
                // A page that cannot be read or entered is tried again and said; the shard goes on meanwhile.
                _trouble = failed.Message;
                if (failed is ShardNotRunningException) return;
                try
                {
                    await Task.Delay(Again, clock, cancel);
                }
                catch (OperationCanceledException)
                {
                    return;
                }
            }
        }
    }

    private async Task<Position> StepAsync(Position at, CancellationToken cancel)
    {
        var head = desk.Committed;
        var page = desk.Read(r => r.Told(at, Rows));
        if (page.Length > 0)
        {
            Enter(page);
            at = page[^1].Position;
        }

        if (page.Length == Rows) return at;
        if (head > at) at = head;
        await desk.UntilAfterAsync(at, cancel);
        return at;
    }

    private void Enter(ImmutableArray<(Position Position, TellingRow Row)> page)
    {
        file.InOneStep(book =>
        {
            foreach (var (_, row) in page)
                if (row.Kind == Codes.AlertTold && ToldChange.Read(desk.Name, row.Bytes) is { } change) entry.Enter(book, desk.Name, change);
            book.Place(desk.Name, page[^1].Position);
        });
        entry.Entered();
    }
}
