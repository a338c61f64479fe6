using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Service.Tests.Crashing;

/// <summary>A second service is started on the journal of one that runs.</summary>
public sealed class OwnedJournalTests(ITestOutputHelper output)
{
    private const ulong Seed = 15;

    [Fact]
    public async Task The_second_process_says_who_owns_the_journal_and_the_first_goes_on()
    {
        var messages = RandomFleet.Recording(Seed, 900)[..100];
        var expected = Undisturbed.Digest(messages);
        var port = Mosquitto.FreePort();
        using var premises = Premises.WithBrokerInside(port);
        await using var devices = new Devices(messages, port);
        await using var first = premises.Serve();
        devices.Allow(messages.Length / 2);
        await devices.UntilAcknowledged();

        await using (var second = premises.Run("serve"))
        {
            Assert.Equal(2, await second.Exit());
            var said = Assert.Single(second.Errors.All);
            output.WriteLine(said);
            Assert.StartsWith($"The journal of shard 'main' in {premises.Data} is in use by process {first.Id} on {Environment.MachineName} since ", said, StringComparison.Ordinal);
            Assert.EndsWith("Stop that one first: a journal has one owner.", said, StringComparison.Ordinal);
        }

        devices.Allow(messages.Length);
        await devices.UntilAcknowledged();
        await premises.UntilSettledAs(expected);
        await first.Stop();
        Message.AssertKept(messages, premises.Kept());
    }
}
