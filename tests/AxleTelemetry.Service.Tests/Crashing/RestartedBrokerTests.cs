using System.Collections.Immutable;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Tests.Receiving;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Service.Tests.Crashing;

/// <summary>The broker is killed and started again, with what it stored and without.</summary>
public sealed class RestartedBrokerTests(ITestOutputHelper output)
{
    private const ulong Seed = 17;

    private readonly ImmutableArray<RecordedMessage> _messages = RandomFleet.Recording(Seed, 900)[..300];

    [Fact]
    public async Task The_service_comes_back_by_itself_and_loses_nothing_that_the_broker_stored()
    {
        await using var broker = await Stored();
        using var premises = Premises.At(broker);
        await using var sender = new ResendingSender(broker.Port, _messages);
        await using (var service = premises.Serve())
        {
            await service.Says.Until("main: Connected to");
            for (var restart = 1; restart <= 3; restart++)
            {
                await sender.Send(restart * 50);
                // Until it is handed over it is the broker's.
                await Kept(premises, restart * 50);
                await broker.Kill();
                var sending = sender.Send(restart * 50 + 25);
                await service.Says.Until("Trying again in", restart);
                await broker.Start();
                await sending;
                await service.Says.Until("main: Connected to", restart + 1);
                await Kept(premises, restart * 50 + 25);
            }

            Assert.DoesNotContain(service.Says.All, line => line.Contains("forgotten", StringComparison.Ordinal));
            await service.Stop();
        }

        // What comes while the service is away waits at the broker, which is killed as well.
        await sender.Send(_messages.Length);
        await Eventually.Holds(() => broker.HasStored(_messages[^1].Payload.Span), () => "the last message is not stored");
        await broker.Kill();
        await broker.Start();
        await using var again = premises.Serve();
        await Settled(premises, again);
    }

    [Fact]
    public async Task A_broker_that_lost_its_store_is_told_of_and_later_messages_arrive()
    {
        await using var broker = await Stored();
        using var premises = Premises.At(broker);
        await using var sender = new ResendingSender(broker.Port, _messages);
        await using var service = premises.Serve();
        await service.Says.Until("main: Connected to");
        await sender.Send(150);
        await Kept(premises, 150);
        await broker.Kill();
        broker.Forget();
        await broker.Start();
        await service.Says.Until("again, but the broker has forgotten the session: messages sent meanwhile are missing.");
        await sender.Send(_messages.Length);
        await Settled(premises, service);
    }

    private static async Task<Mosquitto> Stored()
    {
        Mosquitto.SkipUnlessInstalled();
        var broker = new Mosquitto("persistence true", "autosave_on_changes true", "autosave_interval 1");
        await broker.Start();
        return broker;
    }

    // By what is kept, not by how many came: what comes again counts as coming, while something else is still the broker's and dies with it.
    private Task Kept(Premises premises, int count) => Eventually.Holds(
        () => premises.Kept().ToHashSet() is var kept && _messages.Take(count).All(m => kept.Contains(Message.Text(m.Topic, m.Payload.Span))), () => $"{count} messages are kept");

    private async Task Settled(Premises premises, ServiceProcess service)
    {
        var expected = Undisturbed.Digest(_messages);
        await premises.UntilSettledAs(expected);
        var trace = await service.Stop();
        Assert.Equal(expected, await premises.Digest());
        Message.AssertKept(_messages, premises.Kept());
        output.WriteLine($"seed {Seed}: {_messages.Length} messages, {trace.Again} came again. {string.Join(" / ", service.Says.All)}");
    }
}
