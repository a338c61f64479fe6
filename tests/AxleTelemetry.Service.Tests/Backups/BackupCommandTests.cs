using System.Collections.Immutable;
using System.Text.Json.Nodes;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Tests.Checking;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Service.Tests.Backups;

/// <summary>Backups of a service that runs and takes messages meanwhile.</summary>
public sealed class BackupCommandTests : IDisposable
{
    private const ulong Seed = 21;
    private const string Secret = "0123456789abcdef-of-the-service";

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("axle-backup-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public async Task A_backup_of_a_running_service_is_restored_with_its_digest_and_goes_on_to_the_history_of_an_undisturbed_run()
    {
        var messages = RandomFleet.Recording(Seed, 900);
        var port = Mosquitto.FreePort();
        using var premises = Premises.WithBrokerInside(port);
        string taken;
        await using (var service = premises.Serve())
        {
            await service.Says.Until("Pages and the interface");
            var sending = SendAll(port, messages);
            await service.Until(trace => trace.Lines > messages.Length / 2, "half of them");
            await using var backup = premises.Run("backup", "--into", Of("backup"));
            Assert.Equal(0, await backup.Exit());
            taken = Assert.Single(backup.Output.All, line => line.StartsWith("main ", StringComparison.Ordinal));
            Assert.False(sending.IsCompleted, "Nothing came while the backup was taken.");
            await sending;
            await service.Stop();
        }

        var restored = Invocation.Apart("restore", Of("backup"), "--into", Of("data"));
        Assert.True(restored.ExitCode == 0, restored.Errors);
        Assert.Equal(taken, restored.Output.Split('\n')[0]);

        // The service goes on from there; devices that send all of it again end at the one history there is.
        using var again = Premises.WithBrokerInside(port, Of("data"));
        await using var digest = again.Run("digest");
        await digest.Exit();
        Assert.Equal(taken.Split(" at ")[0], Assert.Single(digest.Output.All));
        await using var last = again.Serve();
        await SendAll(port, messages);
        await again.UntilSettledAs(Undisturbed.Digest(messages));
        Message.AssertKept(messages, again.Kept());
        await last.Stop();
    }

    [Fact]
    public async Task It_holds_every_database_the_keys_of_cookies_and_the_files_of_fleets_and_no_secret()
    {
        await using var service = await Served();
        var backup = Take();
        Assert.True(backup.ExitCode == 0, backup.Errors);
        string[] expected = ["backup.json", "configuration/service/axletelemetry.json", "configuration/tickets.csv", "configuration/trucks/rt.json", "data/main.db", "data/more.db", "data/people.db"];
        string[] found = [.. Directory.GetFiles(Of("backup"), "*", SearchOption.AllDirectories).Select(f => Path.GetRelativePath(Of("backup"), f)).Order(StringComparer.Ordinal)];
        Assert.Equal(expected, found.Where(f => !f.StartsWith("data/people-keys/", StringComparison.Ordinal)));
        Assert.All(found, f => Assert.False(File.ReadAllText(Path.Combine(Of("backup"), f)).Contains(Secret, StringComparison.Ordinal), f));
        if (!OperatingSystem.IsWindows())
            foreach (var file in found) Assert.Equal((file, UnixFileMode.UserRead | UnixFileMode.UserWrite), (file, File.GetUnixFileMode(Path.Combine(Of("backup"), file))));
        // Laid out as they were: the settings of the backup are whole where their secrets are put beside them.
        File.WriteAllText(Of("backup/configuration/service/token"), Secret);
        Assert.Equal(0, Invocation.Of("check", Of("backup/configuration/service/axletelemetry.json")).ExitCode);
    }

    [Fact]
    public async Task Nothing_is_written_over_and_what_was_changed_since_is_not_restored()
    {
        await using (await Served())
        {
            Assert.Equal(0, Take().ExitCode);
            Assert.Contains("is there already", Take().Errors, StringComparison.Ordinal);
        }

        var full = Invocation.Apart("restore", Of("backup"), "--into", Of("data"));
        Assert.Equal(2, full.ExitCode);
        Assert.Contains("is not empty", full.Errors, StringComparison.Ordinal);
        Directory.CreateDirectory(Of("mounted"));
        Assert.Equal(0, Invocation.Of("restore", Of("backup"), "--into", Of("mounted")).ExitCode);
        Assert.Equal(["main.db", "more.db", "people-keys", "people.db"], Names("mounted"));

        Change(Of("backup/data/main.db"));
        var changed = Invocation.Apart("restore", Of("backup"), "--into", Of("elsewhere"));
        Assert.Equal(2, changed.ExitCode);
        Assert.Contains("main.db is not what was taken", changed.Errors, StringComparison.Ordinal);

        // A list that was made to fit: the history itself is held against its digest.
        var list = JsonNode.Parse(File.ReadAllText(Of("backup/backup.json")))!;
        var journal = list["files"]!.AsArray().Single(f => (string)f!["name"]! == "data/main.db")!;
        File.Copy(Of("mounted/main.db"), Of("backup/data/main.db"), overwrite: true);
        list["journals"]![0]!["digest"] = new string('0', 64);
        File.WriteAllText(Of("backup/backup.json"), list.ToJsonString());
        var other = Invocation.Apart("restore", Of("backup"), "--into", Of("elsewhere"));
        Assert.Equal((2, true), (other.ExitCode, journal["bytes"]!.GetValue<long>() == new FileInfo(Of("backup/data/main.db")).Length));
        Assert.Contains("which is not what backup.json says", other.Errors, StringComparison.Ordinal);
        Assert.False(Directory.Exists(Of("elsewhere")) || Directory.Exists(Of("elsewhere.unfinished")));
        Assert.Contains("is no backup", Invocation.Of("restore", Of("trucks"), "--into", Of("elsewhere")).Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_directory_may_be_named_with_a_separator_behind_it()
    {
        await using (await Served())
        {
            var taken = Invocation.Apart("backup", "--settings", Of("service/axletelemetry.json"), "--into", Of("backup") + Path.DirectorySeparatorChar);
            Assert.True(taken.ExitCode == 0, taken.Errors);
        }

        var restored = Invocation.Apart("restore", Of("backup") + Path.DirectorySeparatorChar, "--into", Of("elsewhere") + Path.DirectorySeparatorChar);
        Assert.True(restored.ExitCode == 0, restored.Errors);
        Assert.True(File.Exists(Of("elsewhere/main.db")));
    }

    [Fact]
    public async Task A_service_says_that_it_is_healthy_and_where_none_runs_nobody_does()
    {
        await using (await Served())
        {
            var healthy = Invocation.Apart("healthy", "--settings", Of("service/axletelemetry.json"));
            Assert.Equal((0, ""), (healthy.ExitCode, healthy.Output));
        }

        var nobody = Invocation.Apart("healthy", "--settings", Of("service/axletelemetry.json"));
        Assert.Equal(2, nobody.ExitCode);
        Assert.Contains("No service answers", nobody.Errors, StringComparison.Ordinal);
    }

    private Invocation Take() => Invocation.Apart("backup", "--settings", Of("service/axletelemetry.json"), "--into", Of("backup"));

    /// <summary>A service with settings that name files beside and above them, and another program's database in its data directory.</summary>
    private async Task<RunningProgram> Served()
    {
        Directory.CreateDirectory(Of("service"));
        Directory.CreateDirectory(Of("trucks"));
        File.Copy(ExampleFiles.Of("rigid-6x2-tag.json"), Of("trucks/rt.json"));
        File.Copy(ExampleFiles.Tickets, Of("tickets.csv"));
        File.WriteAllText(Of("service/token"), Secret);
        File.WriteAllText(Of("service/axletelemetry.json"), FormattableString.Invariant($$"""
            { "data_directory": "../data", "embedded_broker": { "listen": "127.0.0.1:{{Mosquitto.FreePort()}}" }, "http": { "listen": "0.0.0.0:{{Mosquitto.FreePort()}}", "api_token_file": "token" },
              "fleets": { "north": { "vehicles": "../trucks", "tickets": ["../tickets.csv"] } } }
            """));
        var service = RunningProgram.Build("serve", "--settings", Of("service/axletelemetry.json"));
        await service.Output.Until("Pages and the interface");
        var more = Of("data/more.db");
        if (!File.Exists(more)) File.WriteAllBytes(more, []);
        return service;
    }

    private static async Task SendAll(int port, ImmutableArray<RecordedMessage> messages)
    {
        await using var sender = new ResendingSender(port, messages);
        await sender.Send(messages.Length);
    }

    private static void Change(string file)
    {
        using var stream = new FileStream(file, FileMode.Open, FileAccess.ReadWrite);
        stream.Position = stream.Length - 1;
        var last = stream.ReadByte();
        stream.Position = stream.Length - 1;
        stream.WriteByte((byte)(last ^ 1));
    }

    private string[] Names(string directory) => [.. Directory.GetFileSystemEntries(Of(directory)).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal)];

    private string Of(string name) => Path.Combine(_folder.FullName, name);
}
