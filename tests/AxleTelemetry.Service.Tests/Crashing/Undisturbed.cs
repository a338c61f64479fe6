using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Tests.Sharding;

namespace AxleTelemetry.Service.Tests.Crashing;

/// <summary>What a service that nothing happens to makes of a recording.</summary>
internal static class Undisturbed
{
    private const int Batch = 50;

    /// <summary>The digest of its history.</summary>
    public static string Digest(IReadOnlyList<RecordedMessage> messages)
    {
        var (run, store) = ShardRun.InMemory(messages[0].Received!.Value);
        foreach (var batch in messages.Chunk(Batch)) run.Append(batch);
        run.End();
        Assert.NotEmpty(store.History);
        return store.Digest();
    }
}
