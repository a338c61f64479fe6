using AxleTelemetry.Service.Simulating;
using AxleTelemetry.Service.Tests.Checking;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Service.Tests.Simulating;

public sealed class SimulateCommandTests : IDisposable
{
    private readonly DirectoryInfo _directory = Directory.CreateTempSubdirectory("simulated-");

    private string Settings => In(FleetFiles.Settings);

    public void Dispose() => _directory.Delete(recursive: true);

    [Fact]
    public void What_it_writes_is_checked_replayed_and_calibrated_without_an_error_and_the_same_twice()
    {
        Simulate(_directory.FullName, seed: 3);
        var check = Invocation.Of(["check", Settings, In(SimulationFiles.Recording), .. Vehicles()]);
        Assert.Equal(0, check.ExitCode);
        Assert.Contains("0 errors", check.Output, StringComparison.Ordinal);

        var digest = Digest(_directory.FullName);
        var again = _directory.CreateSubdirectory("again").FullName;
        Simulate(again, seed: 3);
        Assert.Equal(File.ReadAllBytes(In(SimulationFiles.Truth)), File.ReadAllBytes(Path.Combine(again, SimulationFiles.Truth)));
        Assert.Equal(digest, Digest(again));
        Simulate(again, seed: 4);
        Assert.NotEqual(digest, Digest(again));

        var vehicle = Directory.GetFiles(_directory.FullName, "*RT-001.json", SearchOption.AllDirectories)[0];
        var haulier = Path.GetFileName(Path.GetDirectoryName(vehicle)!);
        Assert.Equal(0, Invocation.Of("calibrate", "--vehicle", vehicle, "--tickets", In($"tickets-{haulier}-1.csv")).ExitCode);
    }

    [Theory]
    [InlineData("--out", "One of the two is needed")]
    [InlineData("--rate", "1 or 0.1", "--out", "x", "--rate", "5")]
    [InlineData("--vehicles", "from 1 to 2000", "--out", "x", "--vehicles", "0")]
    [InlineData("--days", "from 1 to 366", "--out", "x", "--days", "a")]
    [InlineData("--faults", "from 0 to 1", "--out", "x", "--faults", "2")]
    [InlineData("--start", "a day", "--out", "x", "--start", "yesterday")]
    [InlineData("--start", "of now", "--broker", "localhost", "--start", "2026-03-02")]
    [InlineData("--pace", "Only a broker", "--out", "x", "--pace", "2")]
    [InlineData("--broker", "a host and a port", "--broker", "a/b")]
    public void Bad_input_is_told_with_its_option(string option, string words, params string[] options)
    {
        var told = Invocation.Of(["simulate", .. options]);
        Assert.Equal(2, told.ExitCode);
        Assert.Contains(option, told.Output, StringComparison.Ordinal);
        Assert.Contains(words, told.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_tickets_there_are_none()
    {
        Assert.Equal(0, Invocation.Of("simulate", "--out", _directory.FullName, "--vehicles", "1", "--rate", "0.1", "--no-tickets").ExitCode);
        Assert.Empty(_directory.GetFiles("*.csv"));
        Assert.Equal(0, Invocation.Of("check", Settings).ExitCode);
    }

    private static void Simulate(string directory, int seed) => Assert.Equal(0, Invocation.Of(
        "simulate", "--out", directory, "--seed", $"{seed}", "--vehicles", "7", "--rate", "0.1", "--faults", "0.3").ExitCode);

    private static string Digest(string directory)
    {
        var replay = Invocation.Of("replay", Path.Combine(directory, SimulationFiles.Recording), "--settings", Path.Combine(directory, FleetFiles.Settings));
        Assert.Equal(0, replay.ExitCode);
        Assert.Contains("Refused: none", replay.Output, StringComparison.Ordinal);
        Assert.Contains("Vehicles nobody described: none", replay.Output, StringComparison.Ordinal);
        return replay.Output.Split('\n').Single(l => l.StartsWith("Digest: ", StringComparison.Ordinal));
    }

    private IEnumerable<string> Vehicles() => Directory.GetFiles(_directory.FullName, "*.json", SearchOption.AllDirectories).Where(f => f != Settings);

    private string In(string name) => Path.Combine(_directory.FullName, name);
}
