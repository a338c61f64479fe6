using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Series;

namespace AxleTelemetry.Deployment.Tests.Series;

/// <summary>The writer against a real server that is started, stopped and started again.</summary>
public sealed class SeriesServerTests
{
    private static readonly long Now = DateTimeOffset.UtcNow.AddMinutes(-10).ToUnixTimeMilliseconds();

    [Fact]
    public async Task What_was_taken_is_there_after_a_restart_and_what_was_sent_meanwhile_was_not_taken()
    {
        await using var server = await SeriesServer.New();
        using var client = new SeriesClient(server.Target, SeriesServer.Token);
        Assert.IsType<SendOutcome.Taken>(await client.SendAsync([Point(0, 9_000), Point(1, 9_100)], TestContext.Current.CancellationToken));
        await server.Stop();
        Assert.IsType<SendOutcome.Unavailable>(await client.SendAsync([Point(2, 9_200)], TestContext.Current.CancellationToken));
        await server.Start();
        // A correction takes the place of what was there, a point taken back is marked.
        Assert.IsType<SendOutcome.Taken>(await client.SendAsync([Point(1, 9_150), Point(0, 9_000, isVoid: true), Point(3, 9_300)], TestContext.Current.CancellationToken));
        using var reading = await server.Reading();
        var (loads, taken) = (await reading.FieldAsync("axle_load", "load_kg"), await reading.FieldAsync("axle_load", "void"));
        Assert.Equal([0, 1, 3], loads.Select(p => (p.Key.At - Now) / 1000).Order());
        Assert.All(loads, p => Assert.Equal("axle=tag,fleet=north,unit=RT-01,vehicle=RT-01", p.Key.Tags));
        Assert.Contains(9_150, loads[(Tags, Now + 1_000)]);
        Assert.Contains(1, taken[(Tags, Now)]);
        Assert.DoesNotContain(1, taken[(Tags, Now + 3_000)]);
    }

    private const string Tags = "axle=tag,fleet=north,unit=RT-01,vehicle=RT-01";

    private static SeriesPoint Point(int second, double kilograms, bool isVoid = false) => new(
        new PointIdentity("axle_load", [("fleet", "north"), ("unit", "RT-01"), ("vehicle", "RT-01"), ("axle", "tag")], new Moment(Now + 1000 * second)),
        [("load_kg", new FieldValue.Number(kilograms)), ("void", new FieldValue.Flag(isVoid))]);
}
