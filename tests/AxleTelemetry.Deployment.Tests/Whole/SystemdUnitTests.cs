using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Deployment.Tests.Whole;

/// <summary>The unit as systemd itself reads it. It is not started here: tests have no systemd of their own.</summary>
public sealed class SystemdUnitTests : IDisposable
{
    private const string Analyze = "/usr/bin/systemd-analyze", Program = "/opt/axletelemetry/axletelemetry";

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("axle-unit-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public async Task Systemd_takes_it_and_finds_little_that_it_could_reach()
    {
        if (!File.Exists(Analyze)) Assert.Skip("systemd is not installed.");
        var text = await File.ReadAllTextAsync(Path.Combine(Repository.Root, "deploy", "systemd", "axletelemetry.service"), TestContext.Current.CancellationToken);
        Assert.Contains(Program, text, StringComparison.Ordinal);
        // A program that is there in its place: systemd looks for it.
        var unit = Path.Combine(_folder.FullName, "axletelemetry.service");
        await File.WriteAllTextAsync(unit, text.Replace(Program, "/bin/true", StringComparison.Ordinal), TestContext.Current.CancellationToken);
        await using var verify = RunningProgram.Start(Analyze, "verify", unit);
        Assert.Equal(0, await verify.Exit());
        Assert.DoesNotContain(verify.Errors.All, line => line.Contains("axletelemetry.service", StringComparison.Ordinal));
        // In tenths, of at most ten.
        await using var security = RunningProgram.Start(Analyze, "security", "--offline=yes", "--threshold=20", unit);
        Assert.True(await security.Exit() == 0, string.Join('\n', security.Output.All));
    }
}
