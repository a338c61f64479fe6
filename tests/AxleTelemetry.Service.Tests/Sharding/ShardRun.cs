using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>A shard that messages are given to by hand; its clock is that of the messages.</summary>
internal sealed class ShardRun
{
    public ShardRun(Shard shard) => Shard = shard;

    public Shard Shard { get; }

    public Moment Now { get; private set; }

    /// <summary>A shard in memory with the configuration of the examples.</summary>
    public static (ShardRun Run, MemoryStore Store) InMemory(Moment now, FleetConfiguration? configuration = null, ShardOptions? options = null)
    {
        var store = new MemoryStore();
        var run = new ShardRun(Shard.Begin(store, options ?? new ShardOptions()));
        run.Configure(now, configuration);
        return (run, store);
    }

    public void Configure(Moment now, FleetConfiguration? configuration = null)
    {
        Now = now;
        Shard.Configure(configuration ?? RandomFleet.Configuration, now);
        Write();
    }

    /// <summary>One batch, at the receive time of its last message.</summary>
    public void Append(params IEnumerable<RecordedMessage> messages)
    {
        ImmutableArray<Received> batch = [.. messages.Select(Of)];
        Now = Codes.At(batch[^1].At);
        Shard.Append(batch, Now);
        Write();
        Pass(Now);
    }

    /// <summary>Time goes on without messages: what is due is done.</summary>
    public void Pass(Moment now)
    {
        Now = now;
        if (Shard.Pass(now)) Write();
        while (Shard.HasToCorrect(now))
            if (Shard.Correct(now)) Write();
    }

    /// <summary>Nothing more comes: everything is taken and corrected.</summary>
    public void End()
    {
        if (Shard.Flush(Now)) Write();
        // What a second run finds may have to wait for a slower stream once more, and the next that took its trailer waits for it.
        for (var round = 0; round < 8 && !Shard.IsSettled; round++) Pass(Now.Plus(60));
        Assert.True(Shard.IsSettled);
    }

    /// <summary>A clean stop.</summary>
    public void Close()
    {
        Shard.Close(Now);
        Write();
    }

    public void Write() => Assert.IsType<WriteOutcome.Committed>(Shard.Write());

    public static Received Of(RecordedMessage message) => new()
    {
        Topic = message.Topic,
        Payload = message.Payload,
        At = DateTimeOffset.FromUnixTimeMilliseconds(message.Received!.Value.UnixMilliseconds),
    };
}
