using System.Security.Cryptography;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Service.Tests.Crashing;

/// <summary>Bytes of a journal were overwritten while the service was stopped.</summary>
public sealed class DamagedJournalTests(ITestOutputHelper output)
{
    private const ulong Seed = 16;

    [Theory]
    [InlineData("its beginning", 0.0, false)]
    [InlineData("its middle", 0.5, false)]
    [InlineData("its beginning, after a kill", 0.0, true)]
    public async Task It_is_said_and_the_files_stay_as_they_are(string where, double place, bool killed)
    {
        var port = Mosquitto.FreePort();
        using var premises = Premises.WithBrokerInside(port);
        await Fill(premises, port, killed);
        Overwrite(Path.Combine(premises.Data, "main.db"), place);
        var before = Files(premises.Data);
        await using (var service = premises.Run("serve"))
        {
            Assert.Equal(2, await service.Exit());
            var said = Assert.Single(service.Errors.All);
            output.WriteLine($"{where}: {said}");
            Assert.StartsWith($"The journal {Path.Combine(premises.Data, "main.db")} is damaged: ", said, StringComparison.Ordinal);
            Assert.EndsWith(". Nothing was changed. Restore it from a backup, or move it away to begin anew.", said, StringComparison.Ordinal);
        }

        Assert.Equal(before, Files(premises.Data));
    }

    private static async Task Fill(Premises premises, int port, bool killed)
    {
        var messages = RandomFleet.Recording(Seed, 900)[..200];
        await using var devices = new Devices(messages, port);
        await using var service = premises.Serve();
        devices.Allow(messages.Length);
        await devices.UntilAcknowledged();
        if (killed) await service.Kill();
        else await service.Stop();
    }

    private static void Overwrite(string path, double place)
    {
        using var file = new FileStream(path, FileMode.Open);
        file.Position = (long)(place * file.Length);
        var noise = new byte[Math.Min(5_000, file.Length - file.Position)];
        new Random(1).NextBytes(noise);
        file.Write(noise);
    }

    /// <summary>What the files of the journal hold. The lock says who came last; reading leaves an empty log and shared memory.</summary>
    private static List<string> Files(string data) => [.. Directory.GetFiles(data, "main.*").Order(StringComparer.Ordinal)
        .Where(f => Path.GetFileName(f) is "main.db" or "main.db-wal" or "main.reserve" && new FileInfo(f).Length > 0)
        .Select(f => $"{f} {Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(f)))}")];
}
