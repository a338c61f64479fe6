using System.Diagnostics;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Service.Tests.Crashing;

/// <summary>The disk of the journal is filled by somebody else while devices send.</summary>
public sealed class FullDiskTests(ITestOutputHelper output)
{
    // The journal's reserve of 64 MiB, half as much again to set it aside, and some for the journal.
    private const int DiskSize = 112;
    private const ulong Seed = 13;

    [Fact]
    public async Task On_a_full_disk_nothing_is_acknowledged_and_all_is_taken_once_there_is_room()
    {
        var began = Stopwatch.GetTimestamp();
        await using var disk = await SmallDisk.OfMebibytes(DiskSize);
        var messages = RandomFleet.Recording(Seed, 600);
        var expected = Undisturbed.Digest(messages);
        var port = Mosquitto.FreePort();
        using var premises = Premises.WithBrokerInside(port, Path.Combine(disk.Path, "data"));
        await using var devices = new Devices(messages, port);
        await using var service = premises.Serve();
        devices.Allow(messages.Length / 2);
        await devices.UntilAcknowledged();
        disk.Fill();
        devices.Allow(messages.Length);
        await service.Says.Until("main: The journal takes nothing:");
        Assert.Contains(service.Says.All, line => line.EndsWith("The same batch is written again until it does.", StringComparison.Ordinal));
        // The log's own room took a few more.
        var committed = service.Trace.Of("committed").Count;
        Assert.True(committed < messages.Length);
        // When commits have failed for ten seconds devices are sent away: they keep their messages.
        await Eventually.Holds(() => devices.AnyTurnedAway, () => "no device was sent away");
        Assert.Equal(committed, service.Trace.Of("committed").Count);
        Assert.Equal(committed, service.Trace.Of("acknowledged").Count);
        Assert.True(devices.Acknowledged <= committed, $"{devices.Acknowledged} acknowledged, {committed} committed");

        disk.Clear();
        await service.Says.Until("main: The journal takes batches again.");
        await devices.UntilAcknowledged();
        await premises.UntilSettledAs(expected);
        await service.Stop();
        Assert.Equal(expected, await premises.Digest());
        Message.AssertKept(messages, premises.Kept());
        output.WriteLine(FormattableString.Invariant($"seed {Seed}: {messages.Length} messages, {committed} acknowledged before the disk was full, none while it was. {Stopwatch.GetElapsedTime(began).TotalSeconds:0.0} s."));
    }

    [Fact]
    public async Task A_service_killed_on_a_full_disk_starts_again_and_takes_all_once_there_is_room()
    {
        await using var disk = await SmallDisk.OfMebibytes(DiskSize);
        var messages = RandomFleet.Recording(Seed + 1, 600);
        var expected = Undisturbed.Digest(messages);
        var port = Mosquitto.FreePort();
        using var premises = Premises.WithBrokerInside(port, Path.Combine(disk.Path, "data"));
        await using var devices = new Devices(messages, port);
        await using (var first = premises.Serve())
        {
            devices.Allow(messages.Length / 2);
            await devices.UntilAcknowledged();
            disk.Fill();
            devices.Allow(messages.Length);
            await first.Says.Until("main: The journal takes nothing:");
            await first.Kill();
        }

        await using var second = premises.Serve();
        await second.Says.Until("main: The journal takes nothing:");
        disk.Clear();
        await devices.UntilAcknowledged();
        await premises.UntilSettledAs(expected);
        await second.Stop();
        Assert.Equal(expected, await premises.Digest());
        Message.AssertKept(messages, premises.Kept());
    }
}
