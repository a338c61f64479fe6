using System.Net.Sockets;
using AxleTelemetry.Service.Tests.Configuring;
using AxleTelemetry.Service.Tests.Watching;
using Xunit.Sdk;

namespace AxleTelemetry.Service.Tests.Serving;

public sealed class RestartedProgramTests
{
    [Fact]
    public async Task Killed_it_starts_again_with_the_same_arguments_and_all_it_wrote_is_kept()
    {
        Mosquitto.SkipUnlessInstalled();
        await using var broker = new Mosquitto();
        await broker.Start();
        await using var program = new RestartedProgram("watch", "--broker", broker.Address, "--vehicles", ExampleFiles.Rigid);
        for (var life = 1; life <= 2; life++)
        {
            program.Start();
            await program.Now.Errors.Until("Connected to");
            Assert.Throws<InvalidOperationException>(program.Start);
            await program.Kill();
        }

        Assert.Equal(2, program.Errors.Count(line => line.Contains("Connected to", StringComparison.Ordinal)));
        program.Start();
        await program.Now.Errors.Until("Connected to");
        Assert.Equal(0, await program.Stop());
    }

    [Fact]
    public async Task The_service_answers_again_after_a_kill()
    {
        using var folder = new ServiceFolder();
        var port = Mosquitto.FreePort();
        folder.Settings(FormattableString.Invariant($"\"embedded_broker\": {{ \"listen\": \"127.0.0.1:{port}\" }}, \"http\": {{ \"listen\": \"127.0.0.1:{Mosquitto.FreePort()}\" }}"));
        await using var program = new RestartedProgram("serve", "--settings", folder.SettingsFile);
        for (var life = 1; life <= 2; life++)
        {
            program.Start();
            await program.Until("the broker inside takes connections", cancel => Connects(port, cancel));
            await program.Kill();
        }
    }

    [Fact]
    public async Task Waiting_for_what_ended_fails_at_once_and_shows_what_it_said()
    {
        await using var program = new RestartedProgram("serve", "--settings", "/nowhere/axletelemetry.json");
        program.Start();
        await program.Now.Exit();
        var failed = await Assert.ThrowsAnyAsync<XunitException>(() => program.Until("an answer", _ => Task.FromResult(false)));
        Assert.Contains("It ended with 2 before: an answer", failed.Message, StringComparison.Ordinal);
        Assert.Contains("/nowhere/axletelemetry.json", failed.Message, StringComparison.Ordinal);
    }

    private static async Task<bool> Connects(int port, CancellationToken cancel)
    {
        using var client = new TcpClient();
        await client.ConnectAsync("127.0.0.1", port, cancel);
        return client.Connected;
    }
}
