using System.Net;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Storage.Series;

namespace AxleTelemetry.Service.Tests.Series;

/// <summary>A bad network between the writer and a real database: in the end the history in force stands there, every field of it, and vehicles never noticed.</summary>
public sealed class ToxicNetworkTests : IDisposable
{
    private const int Times = 100;
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(1);

    private readonly DirectoryInfo _data = Directory.CreateTempSubdirectory("axle-toxic-");

    public void Dispose() => _data.Delete(recursive: true);

    [Theory]
    [InlineData(11)]
    [InlineData(12)]
    public async Task What_stands_behind_a_bad_network_is_the_history_in_force(int seed)
    {
        InfluxServer.SkipWhereMissing();
        var recording = RandomFleet.Recording((ulong)seed);
        var late = new Random(seed);
        var parts = recording.ToLookup(_ => late.Next(12) == 0);
        await using var server = await InfluxServer.StartAsync(_data.FullName);
        await using var second = await SecondVersion.StartAsync(server.Address);
        await using var link = new ToxicLink(new IPEndPoint(IPAddress.Loopback, second.Address.Port), seed) { IsDead = true };
        using var shard = new CarriedFleet(_data.CreateSubdirectory("journal").FullName, recording).Open();
        shard.Carry(new SeriesClient(new SeriesTarget(link.Address, "fleet", InfluxServer.Database), "a-token-that-is-not-asked-for", Longest), new HurriedClock(Times));

        // Nobody answers, and everything that vehicles send is committed all the same, which is what acknowledges it.
        CarriedFleet.Send(shard, parts[false]);
        await Eventually.Holds(() => CarriedFleet.IsSettled(shard) && link.Done.GetValueOrDefault(ToxicLink.Harm.NobodyBehind) > 2, () => $"{shard.Desk.Health} {shard.Desk.Series()}");
        Assert.Equal(((long)parts[false].Count(), 0L), (shard.Trace.Committed, shard.Desk.Series()!.Written));
        Assert.Equal((0L, 0L), (shard.Intake.HeldBytes, shard.Trace.CommitFailures));

        // Then a part gets through at times, while corrections change what stood there.
        link.IsDead = false;
        await Eventually.Holds(() => shard.Desk.Series()!.Written > 0, () => Standing(shard, link));
        CarriedFleet.Send(shard, parts[true]);
        await Eventually.Holds(() => CarriedFleet.IsSettled(shard) && Enum.GetValues<ToxicLink.Harm>().All(link.Done.ContainsKey), () => Standing(shard, link));
        Assert.Equal(((long)recording.Length, 0L), (shard.Trace.Committed, shard.Intake.HeldBytes));
        link.IsWell = true;
        await Eventually.Holds(() => CarriedFleet.IsSettled(shard) && CarriedFleet.IsCarried(shard), () => Standing(shard, link));
        Assert.Equal((0, 0), (shard.Desk.Series()!.Untold, shard.Desk.Series()!.Refused.Count));

        var inForce = InfluxLines.Of(await InForce.OfAsync(shard.Desk));
        await shard.StopAsync();
        Assert.True(inForce.Count > 1_000, $"{inForce.Count} points");
        Assert.Equal(inForce, await InfluxLines.InAsync(server));
    }

    private static string Standing(RunningShard shard, ToxicLink link) => $"{shard.Desk.Health} {shard.Desk.Series()} {string.Join(' ', link.Done)}";
}
