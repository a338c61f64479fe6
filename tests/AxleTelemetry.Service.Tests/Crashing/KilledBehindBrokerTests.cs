using System.Collections.Immutable;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Tests.Receiving;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Service.Tests.Watching;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Service.Tests.Crashing;

/// <summary>The service is killed again and again while a real broker hands it messages.</summary>
public sealed class KilledBehindBrokerTests(ITestOutputHelper output)
{
    private const ulong Seed = 11;

    [Fact]
    public async Task After_kills_at_every_step_the_history_is_that_of_an_undisturbed_run()
    {
        Mosquitto.SkipUnlessInstalled();
        output.WriteLine($"seed {Seed}");
        var messages = RandomFleet.Recording(Seed, 1200);
        var expected = Undisturbed.Digest(messages);
        await using var broker = new Mosquitto();
        await broker.Start();
        using var premises = Premises.At(broker);
        await Subscribe(premises);
        await using var sender = await Device.At(broker.Port);
        var tally = await Killed(premises, sender, messages);
        await using var last = premises.Serve();
        await premises.UntilSettledAs(expected);
        Assert.Equal(expected, await premises.Digest());
        tally.Ended(await last.Stop());
        Assert.Equal(expected, await premises.Digest());
        Message.AssertKept(messages, premises.Kept());
        tally.Hold(messages.Length, output);
    }

    /// <summary>From the first connection on the broker keeps what it cannot hand over.</summary>
    private static async Task Subscribe(Premises premises)
    {
        await using var first = premises.Serve();
        await first.Says.Until("main: Connected to");
        await first.Stop();
    }

    /// <summary>Sends the recording in as many parts as there are kills: each to a process that is killed while it takes it.</summary>
    private static async Task<KillTally> Killed(Premises premises, Device sender, ImmutableArray<RecordedMessage> messages)
    {
        var tally = new KillTally();
        var part = messages.Length / 20;
        var kills = Kill.Twenty(new SeededRandom(Seed), part);
        for (var i = 0; i < kills.Count; i++)
        {
            await using var service = premises.Serve(kills[i].HoldAt);
            var sending = Send(sender, messages[(i * part)..(i == kills.Count - 1 ? messages.Length : (i + 1) * part)]);
            await kills[i].Due(service);
            tally.Killed(kills[i], await service.Kill());
            await sending;
        }

        return tally;
    }

    private static async Task Send(Device sender, ImmutableArray<RecordedMessage> messages)
    {
        foreach (var message in messages) Assert.True((await sender.Send(message.Payload.ToArray(), message.Topic)).IsSuccess);
    }
}
