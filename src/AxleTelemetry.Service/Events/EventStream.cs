using System.Buffers;
using System.IO.Pipelines;
using System.Text;
using System.Threading.Channels;
using AxleTelemetry.Service.Serving;

namespace AxleTelemetry.Service.Events;

/// <summary>Writes what happens to one listener as server-sent events.</summary>
internal sealed class EventStream(PipeWriter output, TimeProvider clock)
{
    private const int RetryMilliseconds = 2_000, FlushedAt = 32 * 1024;
    private static readonly TimeSpan Heartbeat = TimeSpan.FromSeconds(15);

    /// <summary>The beginning: how soon to come again, where the stream stands, and what may be missing.</summary>
    public async Task BeginAsync(FeedStart start, CancellationToken cancel)
    {
        Put(FormattableString.Invariant($"retry: {RetryMilliseconds}\n"));
        if (start.Gap is { } gap) Put(FormattableString.Invariant($"event: gap\ndata: {System.Text.Json.JsonSerializer.Serialize(new { Reason = gap }, JsonText.Options)}\n"));
        End(start.From);
        await output.FlushAsync(cancel);
    }

    /// <summary>Writes events as they come; a comment where none comes for a while, so that a dead connection is noticed on both sides.</summary>
    public async Task RunAsync(Positions from, ChannelReader<FeedEvent> events, CancellationToken cancel)
    {
        var positions = from;
        var waiting = events.WaitToReadAsync(cancel).AsTask();
        while (true)
        {
            using var beat = CancellationTokenSource.CreateLinkedTokenSource(cancel);
            var first = await Task.WhenAny(waiting, Task.Delay(Heartbeat, clock, beat.Token));
            await beat.CancelAsync();
            if (first != waiting)
            {
                cancel.ThrowIfCancellationRequested();
                Put(": still here\n");
                End(positions);
                await output.FlushAsync(cancel);
                continue;
            }

            if (!await waiting) return;
            while (events.TryRead(out var happened))
            {
                positions = positions.With(happened.Shard, happened.Position);
                Put($"event: {happened.Kind}\ndata: ");
                output.Write(happened.Data.Span);
                Put("\n");
                End(positions);
                if (output.UnflushedBytes > FlushedAt) await output.FlushAsync(cancel);
            }

            await output.FlushAsync(cancel);
            waiting = events.WaitToReadAsync(cancel).AsTask();
        }
    }

    private void Put(string text) => Encoding.UTF8.GetBytes(text, output);

    private void End(Positions positions) => Put($"id: {new EventId(clock.GetUtcNow().ToUnixTimeSeconds(), positions)}\n\n");
}
