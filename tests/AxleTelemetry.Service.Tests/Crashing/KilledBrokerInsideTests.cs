using System.Collections.Immutable;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Service.Tests.Watching;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Service.Tests.Crashing;

/// <summary>The service is killed again and again, and with it its broker, while devices send to it.</summary>
public sealed class KilledBrokerInsideTests(ITestOutputHelper output)
{
    private const ulong Seed = 12;

    [Fact]
    public async Task After_kills_at_every_step_the_history_is_that_of_an_undisturbed_run()
    {
        output.WriteLine($"seed {Seed}");
        var messages = RandomFleet.Recording(Seed, 1200);
        var expected = Undisturbed.Digest(messages);
        var port = Mosquitto.FreePort();
        using var premises = Premises.WithBrokerInside(port);
        await using var devices = new Devices(messages, port);
        var tally = await Killed(premises, devices, messages);
        await using var last = premises.Serve();
        await devices.UntilAcknowledged();
        await premises.UntilSettledAs(expected);
        Assert.Equal(expected, await premises.Digest());
        tally.Ended(await last.Stop());
        Assert.Equal(expected, await premises.Digest());
        Message.AssertKept(messages, premises.Kept());
        tally.Hold(messages.Length, output);
    }

    private static async Task<KillTally> Killed(Premises premises, Devices devices, ImmutableArray<RecordedMessage> messages)
    {
        var tally = new KillTally();
        var part = messages.Length / 20;
        var kills = Kill.Twenty(new SeededRandom(Seed), part);
        for (var i = 0; i < kills.Count; i++)
        {
            await using var service = premises.Serve(kills[i].HoldAt);
            devices.Allow(i == kills.Count - 1 ? messages.Length : (i + 1) * part);
            await kills[i].Due(service);
            tally.Killed(kills[i], await service.Kill());
        }

        return tally;
    }
}
