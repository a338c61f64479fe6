using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Deployment.Tests.Access;

/// <summary>An authority that the shipped script makes, in a directory of its own.</summary>
internal sealed class Authority : IDisposable
{
    private static readonly string Script = Path.Combine(Repository.Root, "deploy", "certificates.sh");

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("axle-authority-");

    private Authority()
    {
    }

    public string Folder => _folder.FullName;

    public static void SkipUnlessPossible()
    {
        if (!File.Exists("/usr/bin/openssl") || !File.Exists("/bin/bash")) Assert.Skip("openssl or bash is not installed.");
    }

    /// <summary>With a broker's certificate for this machine.</summary>
    public static async Task<Authority> Make()
    {
        var authority = new Authority();
        await authority.Do("authority");
        await authority.Do("broker", "localhost", "127.0.0.1");
        return authority;
    }

    public async Task Do(params string[] what)
    {
        var (code, said) = await Ask(what);
        Assert.True(code == 0, said);
    }

    /// <summary>What the script says, and its exit code.</summary>
    public async Task<(int Code, string Said)> Ask(params string[] what)
    {
        await using var script = RunningProgram.Start(Script, [Folder, .. what]);
        return (await script.Exit(), string.Join('\n', script.Output.All.Concat(script.Errors.All)));
    }

    public string FileOf(string name) => Path.Combine(Folder, name);

    /// <summary>What a device shows, by its vehicle.</summary>
    public TlsOptions OfDevice(string vehicle) => Of(Path.Combine("devices", vehicle));

    /// <summary>What a program shows.</summary>
    public TlsOptions Of(string name) => new() { AuthorityFile = FileOf("ca.pem"), CertificateFile = FileOf(name + ".pem"), KeyFile = FileOf(name + ".key") };

    public void Dispose() => _folder.Delete(recursive: true);
}
