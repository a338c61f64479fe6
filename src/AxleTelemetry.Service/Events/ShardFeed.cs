using System.Threading.Channels;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Events;

/// <summary>
/// Follows the log of one shard for one listener. It reads on only when the listener has taken what was read before, so a slow one costs a page
/// and no more; what it has not taken waits in the journal.
/// </summary>
internal sealed class ShardFeed(ShardDesk desk, CombinationShelf shelf, string? fleet)
{
    private const int Page = 64;

    public async Task FollowAsync(Position from, ChannelWriter<FeedEvent> to, CancellationToken cancel)
    {
        var at = from;
        while (true)
        {
            // Taken before the read: what is committed meanwhile is found by the next one.
            var head = desk.Committed;
            var after = at;
            var page = desk.Read(r => r.Changes(after, Page));
            foreach (var change in page)
            {
                at = change.Position;
                if (fleet is not null && FleetOf(change) != fleet) continue;
                if (await FeedEvent.OfAsync(desk, change, shelf, cancel) is { } told) await to.WriteAsync(told, cancel);
            }

            if (page.Length == Page) continue;
            // Batches without a change of history move the log too, and must not be asked for again and again.
            if (head > at) at = head;
            await desk.UntilAfterAsync(at, cancel);
        }
    }

    private static string FleetOf(OutputChange change) => change switch
    {
        OutputChange.Told told => told.Row.Vehicle.Fleet,
        OutputChange.History history => history.Row.Key.Vehicle.Fleet,
        _ => throw new ArgumentOutOfRangeException(nameof(change), change, "Unknown change."),
    };
}
