using System.Collections.Immutable;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Delivering;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Delivering;

/// <summary>
/// Follows what a shard tells of alerts and enters who is to be told of it. What is entered and how far the journal was read are one transaction, so each change
/// is entered once, whatever happens between; nothing here waits for anybody outside.
/// </summary>
internal sealed class ChangeFollower(ShardDesk desk, DeliveryFile file, Func<ChangeEntry> entry, TimeProvider clock)
{
    private const int Rows = 200;

    private readonly Following _following = new(clock);

    /// <summary>The shard.</summary>
    public string Shard => desk.Name;

    /// <summary>Why changes are not taken in at present; <c>null</c> where they are.</summary>
    public string? Trouble => _following.Trouble;

    /// <summary>Notes where the journal is, before anything more is told: what was told before delivery was set up goes to nobody.</summary>
    public void Begin() => file.InOneStep(book =>
    {
        // A journal put back from a copy is behind: what it tells again has the ids it had before.
        if (book.PlaceOf(desk.Name) is not { } place || place > desk.Committed) book.Place(desk.Name, desk.Committed);
    });

    /// <summary>Follows until it is told to stop.</summary>
    public async Task RunAsync(CancellationToken cancel)
    {
        Position? at = null;
        await _following.RunAsync(async token => at = await StepAsync(at ?? Begun(), token), cancel);
    }

    private Position Begun() => file.InOneStep(book => book.PlaceOf(desk.Name)) ?? Position.Start;

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
            // Asked for within the step: who was taken out of the settings meanwhile must not be entered behind the step that gives up what waits for him.
            var now = entry();
            foreach (var (position, row) in page)
            {
                if (row.Kind != Codes.AlertTold) continue;
                // Said and passed over: else one that can never be read would keep everybody from being told of all that follow.
                if (ToldChange.Read(desk.Name, row.Bytes) is { } change) now.Enter(book, desk.Name, change);
                else book.Unread.Note(desk.Name, position, row.Key, clock.Now());
            }

            book.Place(desk.Name, page[^1].Position);
        });
        entry().Entered();
    }
}
